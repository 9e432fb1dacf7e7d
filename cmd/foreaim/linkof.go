package main

import (
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"foreaim/track"
	"foreaim/track/radio"

	"github.com/spf13/pflag"
)

// towardsUsDBi is what the antenna of a small satellite may have: over all
// directions one without loss has 0 dBi by definition, and whips have neither much
// more nor, but for short fades, much less (common practice, no source).
var towardsUsDBi = radio.Range{Low: -3, High: 2}

// linkFlags stand for what the configuration says about signals.
type linkFlags struct {
	powerDBm     value[float64]
	mode         value[*radio.Mode]
	beamwidthDeg value[float64]
	environment  value[radio.Environment]
	transmitters string
	chains       []string
	groundM      value[float64]
}

func newLinkFlags() *linkFlags {
	return &linkFlags{
		powerDBm:     value[float64]{parse: numberWithin("a power is in dBm: 30 is 1 W, 20 is 0.1 W", -100, 100), kind: "DBM"},
		mode:         value[*radio.Mode]{parse: parseMode, kind: "NAME"},
		beamwidthDeg: value[float64]{parse: numberWithin("a beamwidth looks like 50", 1, 180), kind: "DEG"},
		environment:  value[radio.Environment]{parse: parseEnvironment, kind: "NAME"},
		groundM:      value[float64]{parse: numberWithin("a height looks like 120", -500, 9000), kind: "M"},
	}
}

func (l *linkFlags) add(f *pflag.FlagSet) {
	f.Var(&l.powerDBm, "power", "the satellite sends with this power, in dBm")
	f.Var(&l.mode, "mode", `the beacon is sent so, as CW, "GMSK 9600" or "LoRa SF12 125k"`)
	f.Var(&l.beamwidthDeg, "beamwidth", "the antenna's width between the half-power points")
	f.Var(&l.environment, "environment", "how noisy people are here: city, residential, rural or quiet_rural")
	f.StringArrayVar(&l.chains, "chain", nil, "receive with the chain `NAME` of the configuration (repeatable)")
	l.addTransmitters(f)
}

func (l *linkFlags) addTransmitters(f *pflag.FlagSet) {
	f.StringVar(&l.transmitters, "transmitters", "", "the strong transmitters around are in the CSV `FILE`")
	f.Var(&l.groundM, "ground", "the ground here is so high above mean sea level (the site's height without it)")
}

// numberWithin returns a reader of numbers in a range.
func numberWithin(hint string, low, high float64) func(text string) (float64, error) {
	return func(text string) (float64, error) {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= low && x <= high) {
			return 0, wrong(hint, "%q is not %s to %s", text, decimal(low), decimal(high))
		}
		return x, nil
	}
}

// knowsLink tells whether configuration and flags say enough for what to expect of
// a satellite's signal.
func (c config) knowsLink(s satellite, f *linkFlags) bool {
	known := c.signalOf(s)
	_, err := known.how(f)
	return err == nil && s.frequencyHz > 0 && (known.powerDBm.Known || f.powerDBm.given) && (c.beamwidth.eDeg > 0 || f.beamwidthDeg.given)
}

// firstLink is link with the first of the chains.
func (c config) firstLink(s satellite, f *linkFlags) (radio.Link, error) {
	l, err := c.link(s, f)
	if err != nil {
		return l, err
	}
	chains, err := c.chainsFor(f.chains)
	if err != nil {
		return l, err
	}
	l.Chain = chains[0]
	if err := l.Check(); err != nil {
		return l, wrong("", "%w", err)
	}
	return l, nil
}

// promised is what the link to a satellite promises before anything is heard; nil
// where too little is known for one.
func (c config) promised(s satellite, f *linkFlags) (*radio.Expected, error) {
	if !c.knowsLink(s, f) {
		return nil, nil
	}
	l, err := c.firstLink(s, f)
	if err != nil {
		return nil, err
	}
	promise := l.Expected()
	return &promise, nil
}

func (c config) signalOf(s satellite) signalConfig {
	set := s.orbit.Elements()
	entry, _ := c.entry(set.Name, set.CatalogueNumber)
	return entry.signal
}

// link joins what configuration and flags say about a satellite's signal and the
// antenna. Its chain is left to the caller.
func (c config) link(s satellite, f *linkFlags) (radio.Link, error) {
	return c.linkOf(c.signalOf(s), s.frequencyHz, name(s.orbit.Elements()), f)
}

// linkOf is link for what is known of a satellite, its frequency (0: unknown) and
// what to call it.
func (c config) linkOf(known signalConfig, frequencyHz float64, whose string, f *linkFlags) (radio.Link, error) {
	if frequencyHz == 0 {
		return radio.Link{}, wrong("add --frequency 437.1M, or frequency_hz to [[satellite]] in the configuration", "%s: its frequency is unknown", whose)
	}
	if !known.powerDBm.Known && !f.powerDBm.given {
		return radio.Link{}, wrong("add --power 30 for 1 W, or power_dbm to [[satellite]] in the configuration", "%s: its power is unknown", whose)
	}
	mode, err := known.how(f)
	if err != nil {
		return radio.Link{}, wrong(`add --mode "GMSK 9600", or mode to [[satellite]] in the configuration`, "%s: %w", whose, err)
	}
	antenna, err := c.readAntenna(f)
	if err != nil {
		return radio.Link{}, err
	}
	l := radio.Link{
		FrequencyHz:           frequencyHz,
		PowerDBm:              radio.Exactly(f.powerDBm.or(known.powerDBm.Value)),
		SatelliteGainDBi:      towardsUsDBi,
		SatellitePolarisation: known.polarisation,
		Antenna:               antenna,
		Environment:           f.environment.or(c.environment),
		Mode:                  mode,
	}
	if known.gainDBi.Known {
		l.SatelliteGainDBi = radio.Exactly(known.gainDBi.Value)
	}
	if err := l.Check(); err != nil {
		return l, wrong("", "%s: %w", whose, err)
	}
	return l, nil
}

// how is in what way a satellite sends.
func (s signalConfig) how(f *linkFlags) (radio.Mode, error) {
	mode := radio.Mode{Name: "own", HearingSNRDB: radio.Modes()[1].HearingSNRDB}
	named := f.mode.or(s.mode)
	if named != nil {
		mode = *named
	}
	if f.mode.given {
		return mode, nil
	}
	if s.bandwidthHz.Known {
		mode.BandwidthHz = s.bandwidthHz.Value
	}
	if s.hearingSNRDB.Known {
		mode.HearingSNRDB = radio.Exactly(s.hearingSNRDB.Value)
	}
	if s.decodingSNRDB.Known {
		mode.DecodingSNRDB = radio.Exactly(s.decodingSNRDB.Value)
	}
	if named == nil && !(s.bandwidthHz.Known && s.decodingSNRDB.Known) {
		return mode, errors.New("how it sends is unknown")
	}
	return mode, nil
}

// readAntenna joins what is known about the antenna with its measured pattern.
func (c config) readAntenna(f *linkFlags) (radio.Antenna, error) {
	beam := c.beamwidth
	if f.beamwidthDeg.given {
		beam = beamwidth{f.beamwidthDeg.value, f.beamwidthDeg.value}
	}
	if beam.eDeg == 0 {
		return radio.Antenna{}, wrong("add --beamwidth 50, or beamwidth_deg to [antenna] in the configuration", "how wide the antenna's beam is, is unknown")
	}
	a := radio.Antenna{GainDBi: c.antenna.gainDBi, BeamwidthEDeg: beam.eDeg, BeamwidthHDeg: beam.hDeg, Polarisation: c.antenna.polarisation}
	if c.antenna.pattern == "" {
		return a, nil
	}
	var err error
	a.Pattern, err = readFile(c.antenna.pattern, "pattern of [antenna] in the configuration names a CSV file", radio.ReadPattern)
	return a, err
}

// noChain stands where none is written down.
var noChain = radio.Chain{Name: "receiver, no chain known", Stages: []radio.Stage{{Name: "receiver", Kind: radio.Receiver}}}

// chainsFor returns the chains that are named, or else all; of a single one
// also what else can be done with its parts.
func (c config) chainsFor(names []string) ([]radio.Chain, error) {
	if len(names) == 0 {
		switch len(c.chains) {
		case 0:
			return []radio.Chain{noChain}, nil
		case 1:
			chain, err := c.chains[0].read()
			return chain.Variants(), err
		}
		for _, chain := range c.chains {
			names = append(names, chain.Name)
		}
	}
	var all []radio.Chain
	for _, name := range names {
		i := slices.IndexFunc(c.chains, func(one chainConfig) bool { return sameName(one.Name, name) })
		if i < 0 {
			return nil, wrong(c.chainHint(), "there is no chain %q", name)
		}
		chain, err := c.chains[i].read()
		if err != nil {
			return nil, err
		}
		all = append(all, chain)
	}
	return all, nil
}

func (c config) chainHint() string {
	var names []string
	for _, chain := range c.chains {
		names = append(names, chain.Name)
	}
	if len(names) == 0 {
		return "write chains down as [[chain]] in the configuration"
	}
	return "the chains of the configuration are " + strings.Join(names, ", ")
}

// read reads the tables of attenuation of a chain.
func (c chainConfig) read() (radio.Chain, error) {
	chain := c.Chain
	chain.Stages = slices.Clone(chain.Stages)
	for i, file := range c.lossTables {
		if file == "" {
			continue
		}
		table, err := readFile(file, "loss_table of [[chain.stage]] in the configuration names a CSV file", radio.ReadLossTable)
		if err != nil {
			return chain, err
		}
		chain.Stages[i].Response = table
	}
	return chain, nil
}

// readTransmitters reads those that flag or configuration name, as they arrive at
// a site; none where none are named.
func (c config) readTransmitters(f *linkFlags, site track.Site, around sight) ([]radio.Incoming, error) {
	all, file, err := c.transmittersNamed(f)
	if err != nil {
		return nil, err
	}
	spot, loss := around.spot(site, f.groundM), pathLoss(around.tiles)
	var incoming []radio.Incoming
	for _, one := range all {
		in, err := one.From(spot, loss)
		if err != nil {
			return nil, around.tiles.problem(err, file)
		}
		incoming = append(incoming, in)
	}
	return incoming, nil
}

// readFile reads a file with one of the readers of tables.
func readFile[T any](file, hint string, read func(io.Reader, string) (T, error)) (T, error) {
	var none T
	f, err := openFile(file, hint)
	if err != nil {
		return none, err
	}
	defer f.Close()
	result, err := read(f, file)
	if fault, ok := errors.AsType[*radio.FileError](err); ok {
		return none, wrong(fault.Hint(), "%w", fault)
	}
	if err != nil {
		return none, wrong("", "%s: %w", file, err)
	}
	return result, nil
}

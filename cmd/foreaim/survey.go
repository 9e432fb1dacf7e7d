package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"foreaim/track/outing"
	"foreaim/track/radio"

	"github.com/spf13/cobra"
)

// surveyFlags are what a survey takes beside the sweep.
type surveyFlags struct {
	padded    string // a file; empty: none
	padDB     value[float64]
	record    string // of an outing; empty: none
	satellite string
	region    value[radio.Region]
}

func newSurveyCommand(sys system) *cobra.Command {
	o, l := newOptions(sys), newLinkFlags()
	v := surveyFlags{
		padDB:  value[float64]{parse: numberWithin("an attenuator looks like 10", 1, 60), kind: "DB"},
		region: value[radio.Region]{parse: parseRegion, kind: "NAME"},
	}
	cmd := &cobra.Command{
		Use:   "survey PEAKS.csv",
		Short: "tell by what the receiver showed why nothing is heard",
		Long: `Tell what the signals that you saw may be, whether they overload the receiver,
what they can make together on the beacon's channel, the likely cause of what is
wrong with its odds, and what to change.

The file is either signals, low_mhz,high_mhz and level_dbm or level_db, or a
spectrum, frequency_mhz and one of the two; optionally azimuth_deg,
attenuator_db and preamplifier (in or out). Take it twice, the second time with
10 to 20 dB of attenuation in front of everything and the same gain, and give
that as --padded: an overloaded receiver shows its own ghosts, and they fall by
more than that.`,
		Args: arguments(1, 1, "a file of what was seen"),
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			asked, notes, err := sys.ask(cmd.Context(), c, o, l, v, args[0])
			if err != nil {
				return err
			}
			s, err := radio.NewSurvey(asked)
			if err != nil {
				return wrong("", "%w", err)
			}
			s.Notes = append(s.Notes, notes...)
			if o.json {
				return printJSON(sys.stdout, newSurveyJSON(s))
			}
			_, err = fmt.Fprintln(sys.stdout, strings.Join(s.Lines(), "\n"))
			return err
		},
	}
	f := cmd.Flags()
	f.StringVar(&v.padded, "padded", "", "the same seen through an attenuator in front of everything is in the CSV `FILE`")
	f.Var(&v.padDB, "pad", "the attenuator of --padded, where its column attenuator_db doesn't tell (10 without it)")
	f.StringVar(&v.record, "record", "", "take noise marks and the answers of the noise test from the record `LOG` of an outing")
	f.StringVar(&v.satellite, "satellite", "", "the beacon is that of `SAT` of the configuration")
	f.Var(&v.region, "region", "whose channels: region 1, north america, japan, australia or new zealand")
	o.addSite(f)
	o.addTerrain(f)
	o.addFrequency(f)
	l.add(f)
	o.addJSON(f)
	return cmd
}

// usualPadDB is the attenuator that people have.
const usualPadDB = 10

// ask gathers all that a survey starts from, and what is to be borne in mind.
func (sys system) ask(ctx context.Context, c config, o *options, l *linkFlags, v surveyFlags, file string) (a radio.Asked, notes []string, err error) {
	if a.Seen, err = v.readSeen(file); err != nil {
		return a, nil, err
	}
	entry := satelliteConfig{}
	var state outing.State
	if v.record != "" {
		log, err := sys.readOuting(v.record)
		if err != nil {
			return a, nil, err
		}
		state = outing.Resume(log)
		a.Evidence = evidenceOf(state, c)
	}
	if entry, err = c.surveyed(v.satellite, state); err != nil {
		return a, nil, err
	}
	var missing string
	if a.Link, missing, err = c.surveyLink(entry, o, l); err != nil {
		return a, nil, err
	}
	if missing != "" {
		notes = append(notes, "Whether the beacon would be heard isn't reckoned: "+missing+".")
	}
	if a.Plan, err = radio.NewPlan(v.region.or(c.region)); err != nil {
		return a, nil, wrong("", "%w", err)
	}
	if l.transmitters == "" && c.transmitters == "" {
		return a, notes, nil
	}
	p, err := sys.findPlace(ctx, o, c)
	if err != nil {
		return a, nil, err
	}
	g, err := o.openGround(c)
	if err != nil {
		return a, nil, err
	}
	a.Known, err = c.readTransmitters(l, p.site, g.sightOf(p.site))
	return a, notes, err
}

// readSeen reads the sweep and, where it is given, the second one.
func (v surveyFlags) readSeen(file string) (radio.Seen, error) {
	const hint = "a survey needs a CSV file: low_mhz,high_mhz,level_dbm or frequency_mhz,level_dbm"
	seen, err := readFile(file, hint, radio.ReadSeen)
	if err != nil || v.padded == "" {
		return seen, err
	}
	second, err := readFile(v.padded, hint, radio.ReadSeen)
	if err != nil {
		return seen, err
	}
	if second.Absolute != seen.Absolute || (len(second.Sweeps) > 0) != (len(seen.Sweeps) > 0) {
		return seen, wrong("give both as signals or both as spectra, with the same column of levels", "%s and %s can't be compared", file, v.padded)
	}
	padDB := v.padDB.or(usualPadDB)
	for i := range second.Peaks {
		second.Peaks[i].AttenuatorDB = cmp.Or(second.Peaks[i].AttenuatorDB, padDB)
	}
	for i := range second.Sweeps {
		second.Sweeps[i].AttenuatorDB = cmp.Or(second.Sweeps[i].AttenuatorDB, padDB)
	}
	seen.Peaks = append(seen.Peaks, second.Peaks...)
	seen.Sweeps = append(seen.Sweeps, second.Sweeps...)
	return seen, nil
}

// evidenceOf is what a record tells about the noise: the last mark, and the
// answers of the noise test.
func evidenceOf(s outing.State, c config) (e radio.Evidence) {
	for _, m := range s.Marks {
		if m.Fate != outing.Stands {
			continue
		}
		switch m.Kind {
		case outing.NoiseUp:
			e.Noise = "up"
		case outing.NoiseNormal:
			e.Noise = "normal"
		}
	}
	for _, a := range s.Answers {
		if a.List != outing.ListTriage || !slices.Contains([]outing.Answer{outing.Yes, outing.No, outing.CantTell}, outing.Answer(a.Answer)) {
			continue
		}
		switch outing.Topic(a.Item) {
		case outing.TurnAway:
			e.TurnAway = string(a.Answer)
		case outing.Weaken:
			e.Weaken = string(a.Answer)
		case outing.TooMuch:
			e.TooMuch = string(a.Answer)
		}
	}
	e.Bypassed = c.noiseWay == outing.Bypass
	return e
}

// surveyed is the satellite that a survey is about: the one that is named, that
// of the record, or the only one of the configuration.
func (c config) surveyed(named string, s outing.State) (satelliteConfig, error) {
	if named != "" {
		for _, entry := range c.satellites {
			if sameName(entry.name, named) || fmt.Sprint(entry.catalogueNumber) == named {
				return entry, nil
			}
		}
		return satelliteConfig{}, wrong("write it down as [[satellite]], or leave it out and give --frequency", "there is no satellite %q in the configuration", named)
	}
	if entry, ok := c.entry(s.Satellite()); ok {
		return entry, nil
	}
	if len(c.satellites) == 1 {
		return c.satellites[0], nil
	}
	return satelliteConfig{}, nil
}

// surveyLink is all that is known of the beacon and the chain. The frequency has
// to be; what else is missing is said.
func (c config) surveyLink(entry satelliteConfig, o *options, l *linkFlags) (radio.Link, string, error) {
	hz := o.frequencyHz.or(entry.frequencyHz)
	if hz == 0 {
		return radio.Link{}, "", wrong("add --frequency 437.1M, or --satellite SAT for one of the configuration", "the beacon's frequency is unknown")
	}
	link, err := c.linkOf(entry.signal, hz, cmp.Or(entry.name, "the beacon"), l)
	if err != nil {
		mode, _ := entry.signal.how(l)
		if mode.BandwidthHz == 0 {
			mode.BandwidthHz = usualBandwidthHz
		}
		return radio.Link{FrequencyHz: hz, Mode: mode}, withHint(err), nil
	}
	chains, err := c.chainsFor(l.chains)
	if err != nil {
		return link, "", err
	}
	link.Chain = chains[0]
	return link, "", nil
}

// usualBandwidthHz is that of most small satellites' beacons (common practice).
const usualBandwidthHz = 15000

package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"foreaim/track/radio"
)

// What a configuration says about signals: antenna, chains, surroundings, and
// how the satellites send.

// antennaTable is [antenna] as it is written.
type antennaTable struct {
	BeamwidthDeg  *float64 `toml:"beamwidth_deg"`
	BeamwidthEDeg *float64 `toml:"beamwidth_e_deg"`
	BeamwidthHDeg *float64 `toml:"beamwidth_h_deg"`
	GainDBi       *float64 `toml:"gain_dbi"`
	Polarisation  *string  `toml:"polarisation"`
	Pattern       *string  `toml:"pattern"`
}

// chainTable is a [[chain]] as it is written.
type chainTable struct {
	Name  string       `toml:"name"`
	Stage []stageTable `toml:"stage"`
}

// stageTable is a [[chain.stage]] as it is written.
type stageTable struct {
	Name            string   `toml:"name"`
	Kind            *string  `toml:"kind"`
	GainDB          *float64 `toml:"gain_db"`
	NoiseFigureDB   *float64 `toml:"noise_figure_db"`
	InputP1dBDBm    *float64 `toml:"input_p1db_dbm"`
	InputIP3DBm     *float64 `toml:"input_ip3_dbm"`
	InputIP2DBm     *float64 `toml:"input_ip2_dbm"`
	FeedV           *float64 `toml:"feed_v"`
	LossTable       *string  `toml:"loss_table"`
	FullScaleDBm    *float64 `toml:"full_scale_dbm"`
	PhaseNoiseDBcHz *float64 `toml:"phase_noise_dbc_hz"`
	Bits            *float64 `toml:"bits"`
	SampleHz        *float64 `toml:"sample_hz"`
}

// antennaConfig is what is known about the antenna's signal; its widths are
// apart.
type antennaConfig struct {
	gainDBi      radio.Figure
	polarisation radio.Polarisation
	pattern      string // a file; empty: none
}

// chainConfig is a chain whose tables of attenuation aren't read yet.
type chainConfig struct {
	radio.Chain
	lossTables []string // a file for each stage; empty: none
}

// signalConfig is how a satellite sends. What isn't known is left open.
type signalConfig struct {
	powerDBm      radio.Figure
	gainDBi       radio.Figure // towards us
	polarisation  radio.Polarisation
	mode          *radio.Mode // nil: none
	bandwidthHz   radio.Figure
	hearingSNRDB  radio.Figure
	decodingSNRDB radio.Figure
}

// signalTable is what a [[satellite]] tells of it.
type signalTable struct {
	PowerDBm      *float64 `toml:"power_dbm"`
	GainDBi       *float64 `toml:"gain_dbi"`
	Polarisation  *string  `toml:"polarisation"`
	Mode          *string  `toml:"mode"`
	BandwidthHz   *float64 `toml:"bandwidth_hz"`
	HearingSNRDB  *float64 `toml:"hearing_snr_db"`
	DecodingSNRDB *float64 `toml:"decoding_snr_db"`
}

func (raw configFile) antenna(c *configCheck) antennaConfig {
	a := raw.Antenna
	return antennaConfig{
		gainDBi:      c.figure("antenna.gain_dbi", a.GainDBi, -20, 40),
		polarisation: read(c, "antenna.polarisation", a.Polarisation, parsePolarisation),
		pattern:      c.path("antenna.pattern", a.Pattern),
	}
}

func (raw configFile) signal(c *configCheck, i int) signalConfig {
	s := raw.Satellite[i].signalTable
	key := func(name string) string { return fmt.Sprintf("satellite[%d].%s", i+1, name) }
	return signalConfig{
		powerDBm:      c.figure(key("power_dbm"), s.PowerDBm, -100, 100),
		gainDBi:       c.figure(key("gain_dbi"), s.GainDBi, -60, 60),
		polarisation:  read(c, key("polarisation"), s.Polarisation, parsePolarisation),
		mode:          read(c, key("mode"), s.Mode, parseMode),
		bandwidthHz:   c.figure(key("bandwidth_hz"), s.BandwidthHz, 1, 1e9),
		hearingSNRDB:  c.figure(key("hearing_snr_db"), s.HearingSNRDB, -100, 100),
		decodingSNRDB: c.figure(key("decoding_snr_db"), s.DecodingSNRDB, -100, 100),
	}
}

func (raw configFile) chain(c *configCheck, i int, before []chainConfig) chainConfig {
	table := fmt.Sprintf("chain[%d]", i+1)
	result := chainConfig{Chain: radio.Chain{Name: plain(raw.Chain[i].Name)}}
	switch {
	case result.Name == "":
		c.add(table, "", "name is missing")
	case slices.ContainsFunc(before, func(b chainConfig) bool { return sameName(b.Name, result.Name) }):
		c.add(table+".name", "", "%q is that of another chain already", result.Name)
	}
	if len(raw.Chain[i].Stage) == 0 {
		c.add(table, "begin one with [[chain.stage]], in the order that the signal meets them", "it has no stage")
	}
	for n, s := range raw.Chain[i].Stage {
		stage, file := s.check(c, fmt.Sprintf("%s.stage[%d]", table, n+1))
		result.Stages = append(result.Stages, stage)
		result.lossTables = append(result.lossTables, file)
	}
	return result
}

// kinds are those of a chain's stages.
var kinds = []radio.Kind{radio.Cable, radio.Filter, radio.Attenuator, radio.Preamplifier, radio.Receiver}

func (s stageTable) check(c *configCheck, table string) (radio.Stage, string) {
	key := func(name string) string { return table + "." + name }
	result := radio.Stage{
		Name:            plain(s.Name),
		Kind:            s.kind(c, table),
		GainDB:          c.number(key("gain_db"), s.GainDB, -100, 100),
		NoiseFigureDB:   c.figure(key("noise_figure_db"), s.NoiseFigureDB, 0, 60),
		InputP1dBDBm:    c.figure(key("input_p1db_dbm"), s.InputP1dBDBm, -120, 60),
		InputIP3DBm:     c.figure(key("input_ip3_dbm"), s.InputIP3DBm, -120, 80),
		InputIP2DBm:     c.figure(key("input_ip2_dbm"), s.InputIP2DBm, -120, 140),
		FeedV:           c.number(key("feed_v"), s.FeedV, 0, 60),
		FullScaleDBm:    c.figure(key("full_scale_dbm"), s.FullScaleDBm, -120, 40),
		PhaseNoiseDBcHz: c.figure(key("phase_noise_dbc_hz"), s.PhaseNoiseDBcHz, -200, 0),
		Bits:            c.number(key("bits"), s.Bits, 1, 32),
		SampleHz:        c.number(key("sample_hz"), s.SampleHz, 1, 1e10),
	}
	file := c.path(key("loss_table"), s.LossTable)
	if s.GainDB == nil && file == "" && result.Kind != radio.Receiver && result.Kind != "" {
		c.add(table, "a loss is negative", "gain_db is missing")
	}
	if active := result.Kind == radio.Preamplifier || result.Kind == radio.Receiver; active || result.Kind == "" {
		return result, file
	}
	if result.GainDB > 0 {
		c.add(key("gain_db"), "a loss is negative", "a %s has no gain, %s was there", result.Kind, decimal(result.GainDB))
	}
	for _, limit := range []struct {
		name  string
		value *float64
	}{{"input_p1db_dbm", s.InputP1dBDBm}, {"input_ip3_dbm", s.InputIP3DBm}, {"input_ip2_dbm", s.InputIP2DBm}} {
		if limit.value != nil {
			c.add(key(limit.name), "", "a %s can't be overloaded, leave it out", result.Kind)
		}
	}
	return result, file
}

// kind is that of a stage: the one that is told or else the one in its name.
func (s stageTable) kind(c *configCheck, table string) radio.Kind {
	text, key, missing := strings.ToLower(plain(s.Name)), table, "kind is missing"
	if s.Kind != nil {
		text, key, missing = *s.Kind, table+".kind", fmt.Sprintf("%q is unknown", plain(*s.Kind))
	}
	var names []string
	for _, k := range kinds {
		if text == string(k) || s.Kind == nil && strings.Contains(text, string(k)) {
			return k
		}
		names = append(names, string(k))
	}
	c.add(key, "", "%s, want %s", missing, strings.Join(names, ", "))
	return ""
}

// figure checks a number that may be left out.
func (c *configCheck) figure(key string, value *float64, low, high float64) radio.Figure {
	return radio.Figure{Value: c.number(key, value, low, high), Known: value != nil}
}

// path is a file beside the configuration, or one given in full.
func (c *configCheck) path(key string, text *string) string {
	switch {
	case text == nil:
		return ""
	case plain(*text) == "" || plain(*text) != *text:
		c.add(key, "", "%q is not the name of a file", plain(*text))
		return ""
	case filepath.IsAbs(*text):
		return *text
	}
	return filepath.Join(filepath.Dir(c.file), *text)
}

func parsePolarisation(text string) (radio.Polarisation, error) {
	return choice(text, radio.Linear, radio.RightCircular, radio.LeftCircular)
}

func parseEnvironment(text string) (radio.Environment, error) {
	return choice(text, radio.City, radio.Residential, radio.Rural, radio.QuietRural)
}

func parseRegion(text string) (radio.Region, error) { return choice(text, radio.Regions()...) }

// choice reads one of several words.
func choice[T ~string](text string, all ...T) (T, error) {
	var words []string
	for _, one := range all {
		if text == string(one) {
			return one, nil
		}
		words = append(words, string(one))
	}
	return "", wrong("", "%q is unknown, want %s", plain(text), strings.Join(words, ", "))
}

func parseMode(text string) (*radio.Mode, error) {
	m, err := radio.FindMode(text)
	if err != nil {
		return nil, wrong("", "%w", err)
	}
	return &m, nil
}

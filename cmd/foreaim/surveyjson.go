package main

import (
	"foreaim/track/radio"
)

// surveyJSON is the answer of a survey.
type surveyJSON struct {
	Unit     string        `json:"unit"`
	Signals  []signalJSON  `json:"signals"`
	Overload *overloadJSON `json:"overload,omitempty"`
	Products []productJSON `json:"products"`
	Cause    causeJSON     `json:"cause"`
	Remedies []remedyJSON  `json:"remedies"`
	Advice   string        `json:"advice,omitempty"`
	Notes    []string      `json:"notes"`
}

type signalJSON struct {
	LowMHz      *float64        `json:"low_mhz"`
	HighMHz     *float64        `json:"high_mhz"`
	LevelDBm    *float64        `json:"level_dbm,omitempty"`
	LevelDB     *float64        `json:"level_db,omitempty"`
	OverFloorDB *float64        `json:"over_floor_db,omitempty"`
	OpenLow     bool            `json:"open_low,omitempty"`
	OpenHigh    bool            `json:"open_high,omitempty"`
	MayBe       []candidateJSON `json:"may_be"`
	Attenuated  *dropJSON       `json:"attenuated,omitempty"`
}

type candidateJSON struct {
	What       string   `json:"what"`
	Channels   []string `json:"channels,omitempty"`
	LowMHz     *float64 `json:"low_mhz"`
	HighMHz    *float64 `json:"high_mhz"`
	Fit        string   `json:"fit"`
	LowOffMHz  *float64 `json:"low_off_mhz,omitempty"`
	HighOffMHz *float64 `json:"high_off_mhz,omitempty"`
	Where      string   `json:"where,omitempty"`
	State      string   `json:"state,omitempty"`
	Source     string   `json:"source,omitempty"`
	Check      string   `json:"check,omitempty"`
}

// dropJSON is what a signal did behind an attenuator. No high end: it fell into
// the noise.
type dropJSON struct {
	AttenuatorDB *float64 `json:"attenuator_db"`
	FellLowDB    *float64 `json:"fell_low_db,omitempty"`
	FellHighDB   *float64 `json:"fell_high_db,omitempty"`
	Order        int      `json:"order,omitempty"`
	Origin       string   `json:"origin"`
	Words        string   `json:"words"`
}

type overloadJSON struct {
	Stages          []loadJSON `json:"stages"`
	GainLossLowDB   *float64   `json:"gain_loss_low_db,omitempty"`
	GainLossHighDB  *float64   `json:"gain_loss_high_db,omitempty"`
	NoiseRiseLowDB  *float64   `json:"noise_rise_low_db,omitempty"`
	NoiseRiseHighDB *float64   `json:"noise_rise_high_db,omitempty"`
	levelJSON
	DependsOnDirection bool `json:"depends_on_direction"`
}

type loadJSON struct {
	Name           string   `json:"name"`
	TotalLowDBm    *float64 `json:"total_low_dbm,omitempty"`
	TotalHighDBm   *float64 `json:"total_high_dbm,omitempty"`
	HeadroomLowDB  *float64 `json:"headroom_low_db,omitempty"`
	HeadroomHighDB *float64 `json:"headroom_high_db,omitempty"`
	Words          string   `json:"words"`
}

// productJSON has no level where it can't be told.
type productJSON struct {
	Of           string   `json:"of"`
	Order        int      `json:"order"`
	LowMHz       *float64 `json:"low_mhz"`
	HighMHz      *float64 `json:"high_mhz"`
	LevelLowDBm  *float64 `json:"level_low_dbm,omitempty"`
	LevelHighDBm *float64 `json:"level_high_dbm,omitempty"`
}

type causeJSON struct {
	Cause   string     `json:"cause"` // "cannot tell" where nobody can
	Odds    []oddsJSON `json:"odds"`
	Reasons []string   `json:"reasons"`
	Guilty  []string   `json:"guilty,omitempty"`
	Do      string     `json:"do"`
}

type oddsJSON struct {
	Cause       string   `json:"cause"`
	Probability *float64 `json:"probability"`
}

type remedyJSON struct {
	Kind    string `json:"kind"`
	Words   string `json:"words"`
	Caution string `json:"caution,omitempty"`
	Verdict string `json:"verdict"`
	marginJSON
}

// marginJSON are the two margins.
type marginJSON struct {
	HearingMarginDB      *float64 `json:"hearing_margin_db,omitempty"`
	HearingMarginLowDB   *float64 `json:"hearing_margin_low_db,omitempty"`
	HearingMarginHighDB  *float64 `json:"hearing_margin_high_db,omitempty"`
	DecodingMarginDB     *float64 `json:"decoding_margin_db,omitempty"`
	DecodingMarginLowDB  *float64 `json:"decoding_margin_low_db,omitempty"`
	DecodingMarginHighDB *float64 `json:"decoding_margin_high_db,omitempty"`
}

func newMarginJSON(hearing, decoding radio.Range) (m marginJSON) {
	m.HearingMarginDB, m.HearingMarginLowDB, m.HearingMarginHighDB = ends(hearing)
	m.DecodingMarginDB, m.DecodingMarginLowDB, m.DecodingMarginHighDB = ends(decoding)
	return m
}

// mhz is a frequency for JSON, to a hertz.
func mhz(x float64) *float64 { return number(x, 6) }

func newSurveyJSON(s radio.Survey) surveyJSON {
	a := surveyJSON{
		Unit: s.Unit, Advice: s.Advice, Overload: newOverloadJSON(s.Overload), Cause: newCauseJSON(s.Cause),
		Signals: []signalJSON{}, Products: []productJSON{}, Remedies: []remedyJSON{}, Notes: append([]string{}, s.Notes...),
	}
	for _, g := range s.Signals {
		a.Signals = append(a.Signals, newSignalJSON(g, s.Unit))
	}
	for _, p := range s.Products {
		made := productJSON{Of: p.Words, Order: p.Order, LowMHz: mhz(p.LowMHz), HighMHz: mhz(p.HighMHz)}
		if p.LevelDBm != (radio.Range{}) {
			_, made.LevelLowDBm, made.LevelHighDBm = ends(p.LevelDBm)
		}
		a.Products = append(a.Products, made)
	}
	for _, r := range s.Remedies {
		a.Remedies = append(a.Remedies, remedyJSON{string(r.Kind), r.Words, r.Caution, string(r.Verdict), newMarginJSON(r.HearingMarginDB, r.DecodingMarginDB)})
	}
	return a
}

func newSignalJSON(g radio.Signal, unit string) signalJSON {
	a := signalJSON{
		LowMHz: mhz(g.LowMHz), HighMHz: mhz(g.HighMHz), OpenLow: g.OpenLow, OpenHigh: g.OpenHigh, MayBe: []candidateJSON{},
	}
	if g.OverFloorDB > 0 {
		a.OverFloorDB = number(g.OverFloorDB, 2)
	}
	if unit == "dBm" {
		a.LevelDBm = number(g.Level, 2)
	} else {
		a.LevelDB = number(g.Level, 2)
	}
	for _, c := range g.Candidates {
		may := candidateJSON{
			What: c.Words, Channels: c.Channels, LowMHz: mhz(c.LowMHz), HighMHz: mhz(c.HighMHz), Fit: string(c.Fit),
			Where: c.Where, State: c.State, Source: c.Source, Check: c.Check,
		}
		if c.Fit == radio.EdgesFit {
			may.LowOffMHz, may.HighOffMHz = mhz(c.LowOffMHz), mhz(c.HighOffMHz)
		}
		a.MayBe = append(a.MayBe, may)
	}
	if d := g.Drop; d != nil {
		_, low, high := ends(d.FellDB)
		a.Attenuated = &dropJSON{number(d.PadDB, 2), low, high, d.Order, string(d.Origin), d.Words}
	}
	return a
}

func newOverloadJSON(o *radio.Overload) *overloadJSON {
	if o == nil {
		return nil
	}
	a := overloadJSON{Stages: []loadJSON{}, levelJSON: newLevelJSON(o.Level), DependsOnDirection: o.Directed}
	_, a.GainLossLowDB, a.GainLossHighDB = ends(o.GainLossDB)
	_, a.NoiseRiseLowDB, a.NoiseRiseHighDB = ends(o.NoiseRiseDB)
	for _, l := range o.Stages {
		load := loadJSON{Name: l.Name, Words: l.Words()}
		_, load.TotalLowDBm, load.TotalHighDBm = ends(l.TotalDBm)
		_, load.HeadroomLowDB, load.HeadroomHighDB = ends(l.HeadroomDB)
		a.Stages = append(a.Stages, load)
	}
	return &a
}

func newCauseJSON(d radio.Diagnosis) causeJSON {
	a := causeJSON{Cause: "cannot tell", Reasons: append([]string{}, d.Reasons...), Guilty: d.Guilty, Do: d.Do}
	if d.Cause != "" {
		a.Cause = string(d.Cause)
	}
	for _, o := range d.Odds {
		a.Odds = append(a.Odds, oddsJSON{string(o.Cause), number(min(o.Probability, 0.99), 3)})
	}
	return a
}

package main

import "foreaim/track/aim/rehearse"

// rehearsalAnswer is what rehearse tells programs.
type rehearsalAnswer struct {
	Follow       scoreJSON           `json:"follow"`
	Lead         scoreJSON           `json:"lead"`
	Learn        scoreJSON           `json:"learn"`
	Known        scoreJSON           `json:"known"`
	PassesPlayed int                 `json:"passes_played"` // fewer than asked for when interrupted
	Settings     rehearsalSettings   `json:"settings"`
	Seed         uint64              `json:"seed"`
	Over         []rehearsalPassJSON `json:"over,omitempty"` // the passes played in turn; none: invented
}

type scoreJSON struct {
	HeardShare         *float64 `json:"heard_share"`
	PassesWithAnyShare *float64 `json:"passes_with_any_share"`
}

type rehearsalSettings struct {
	Passes           int     `json:"passes"`
	TimeErrorS       float64 `json:"time_error_s"`
	HeadingErrorDeg  float64 `json:"heading_error_deg"`
	MarginDB         float64 `json:"margin_db"`
	MarginErrorDB    float64 `json:"margin_error_db"`
	BeamwidthDeg     float64 `json:"beamwidth_deg"`
	AimErrorDeg      float64 `json:"aim_error_deg"`
	FadingDB         float64 `json:"fading_db"`
	PeriodS          float64 `json:"period_s"`
	MinElevationDeg  float64 `json:"min_elevation_deg"`
	PhaseKnown       bool    `json:"phase_known"`
	Strengths        bool    `json:"strengths"`
	FrequencyHz      float64 `json:"frequency_hz,omitempty"` // measured
	FrequencyErrorHz float64 `json:"frequency_error_hz,omitempty"`
}

type rehearsalPassJSON struct {
	Rise             instant  `json:"rise"`
	PeakElevationDeg *float64 `json:"peak_elevation_deg,omitempty"`
	Set              instant  `json:"set"`
}

func newRehearsalAnswer(s rehearse.Settings, played int, r rehearse.Result) rehearsalAnswer {
	score := func(way rehearse.Way) scoreJSON {
		return scoreJSON{number(r[way].HeardShare, probabilityDecimals), number(r[way].AnyShare, probabilityDecimals)}
	}
	answer := rehearsalAnswer{
		Follow: score(rehearse.Follow), Lead: score(rehearse.Lead), Learn: score(rehearse.Learn), Known: score(rehearse.Known),
		PassesPlayed: played, Seed: s.Seed,
		Settings: rehearsalSettings{
			Passes: s.Passes, TimeErrorS: s.TimeErrorS, HeadingErrorDeg: s.HeadingErrorDeg,
			MarginDB: s.MarginDB, MarginErrorDB: s.MarginErrorDB, BeamwidthDeg: s.BeamwidthDeg,
			AimErrorDeg: s.AimErrorDeg, FadingDB: s.FadingDB, PeriodS: s.Period.Seconds(), MinElevationDeg: s.MinElevationDeg,
			PhaseKnown: !s.PhaseUnknown, Strengths: s.Strengths, FrequencyHz: s.FrequencyHz, FrequencyErrorHz: s.FrequencyErrorHz,
		},
	}
	for _, p := range s.Over {
		answer.Over = append(answer.Over, rehearsalPassJSON{instant(p.Rise.Time), number(p.Peak.ElevationDeg, degDecimals), instant(p.Set.Time)})
	}
	return answer
}

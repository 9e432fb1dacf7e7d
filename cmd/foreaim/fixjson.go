package main

import "foreaim/gps"

// fixAnswer is one fix of the answer.
type fixAnswer struct {
	Time               *instant `json:"time,omitempty"`
	LatitudeDeg        *float64 `json:"latitude_deg,omitempty"`
	LongitudeDeg       *float64 `json:"longitude_deg,omitempty"`
	AltitudeM          *float64 `json:"altitude_m,omitempty"`
	Quality            string   `json:"quality"`
	SatellitesUsed     int      `json:"satellites_used"`
	HDOP               *float64 `json:"hdop,omitempty"`
	ClockOffsetS       *float64 `json:"clock_offset_s,omitempty"`
	ClockUncertaintyS  *float64 `json:"clock_uncertainty_s,omitempty"`
	HeadingTrueDeg     *float64 `json:"heading_true_deg,omitempty"`
	HeadingMagneticDeg *float64 `json:"heading_magnetic_deg,omitempty"`
	PitchDeg           *float64 `json:"pitch_deg,omitempty"`
	RollDeg            *float64 `json:"roll_deg,omitempty"`
}

// positionDecimals is about a decimetre.
const positionDecimals = 6

func newFixAnswer(r gps.Report) fixAnswer {
	fix := r.Fix
	a := fixAnswer{
		LatitudeDeg:    number(fix.LatitudeDeg, positionDecimals),
		LongitudeDeg:   number(fix.LongitudeDeg, positionDecimals),
		Quality:        fix.Quality,
		SatellitesUsed: fix.SatellitesUsed,
	}
	if !fix.Time.IsZero() {
		t := instant(fix.Time)
		a.Time = &t
	}
	if fix.AltitudeKnown {
		a.AltitudeM = number(fix.AltitudeM, 1)
	}
	if fix.HDOP > 0 {
		a.HDOP = number(fix.HDOP, 2)
	}
	if r.Clock.Known {
		a.ClockOffsetS = number(r.Clock.OffsetS, 3)
		a.ClockUncertaintyS = number(r.Clock.UncertaintyS, 3)
	}
	if h := r.Heading; h.Fresh(fix.Received) {
		if h.TrueKnown {
			a.HeadingTrueDeg = azimuth(h.TrueDeg)
		}
		if h.MagneticKnown {
			a.HeadingMagneticDeg = azimuth(h.MagneticDeg)
		}
		if h.PitchKnown {
			a.PitchDeg = number(h.PitchDeg, degDecimals)
		}
		if h.RollKnown {
			a.RollDeg = number(h.RollDeg, degDecimals)
		}
	}
	return a
}

package main

import (
	"strings"

	"foreaim/track/north"
)

// northAnswer is the answer. What isn't known is left out, and Note says why.
type northAnswer struct {
	Time                      instant  `json:"time"`
	DeclinationDeg            *float64 `json:"declination_deg,omitempty"`
	DeclinationUncertaintyDeg *float64 `json:"declination_uncertainty_deg,omitempty"`
	AnnualChangeDeg           *float64 `json:"annual_change_deg,omitempty"`
	InclinationDeg            *float64 `json:"inclination_deg,omitempty"`
	TotalNT                   *float64 `json:"total_nt,omitempty"`
	HorizontalNT              *float64 `json:"horizontal_nt,omitempty"`
	NorthNT                   *float64 `json:"north_nt,omitempty"`
	EastNT                    *float64 `json:"east_nt,omitempty"`
	DownNT                    *float64 `json:"down_nt,omitempty"`
	Model                     string   `json:"model,omitempty"`
	Note                      string   `json:"note,omitempty"`

	Sun       *bodyAnswer   `json:"sun,omitempty"`
	Moon      *bodyAnswer   `json:"moon,omitempty"`
	PoleStar  *bodyAnswer   `json:"pole_star,omitempty"`
	Landmarks []guideAnswer `json:"landmarks"`
	Sights    []guideAnswer `json:"sights"` // of the sky, the best first, the refused last

	GridConvergenceDeg *float64 `json:"grid_convergence_deg,omitempty"` // true = grid + this
	GridZone           string   `json:"grid_zone,omitempty"`            // of UTM
}

// bodyAnswer is where a body of the sky stands, without refraction. The
// direction of the shadow is the sun's only, while it throws one.
type bodyAnswer struct {
	AzimuthDeg       *float64 `json:"azimuth_deg,omitempty"`
	ElevationDeg     *float64 `json:"elevation_deg,omitempty"`
	ShadowAzimuthDeg *float64 `json:"shadow_azimuth_deg,omitempty"`
}

// guideAnswer is one thing to lay the boom along. Refusal says why it is of no use.
type guideAnswer struct {
	Name           string   `json:"name"`
	TrueDeg        *float64 `json:"true_deg,omitempty"`
	MagneticDeg    *float64 `json:"magnetic_deg,omitempty"`
	UncertaintyDeg *float64 `json:"uncertainty_deg,omitempty"`
	DistanceKm     *float64 `json:"distance_km,omitempty"`
	ElevationDeg   *float64 `json:"elevation_deg,omitempty"`
	Refusal        string   `json:"refusal,omitempty"`
}

const ntDecimals = 1

func (n northHere) answer() northAnswer {
	a := northAnswer{Time: instant(n.at), Landmarks: n.guideAnswers(n.landmarks), Sights: n.guideAnswers(n.sights)}
	var notes []string
	if n.fieldErr != nil {
		notes = append(notes, n.fieldErr.Error())
	} else {
		a.fill(n.field)
		if words := zoneWords(n.field.Zone); words != "" {
			notes = append(notes, words)
		}
	}
	if n.skyErr != nil {
		notes = append(notes, n.skyErr.Error())
	}
	a.fillSky(n)
	if g, err := n.site.Grid(); err == nil {
		a.GridConvergenceDeg, a.GridZone = number(g.ConvergenceDeg, degDecimals), g.String()
	}
	a.Note = strings.Join(notes, "; ")
	return a
}

func (a *northAnswer) fill(f north.Field) {
	a.DeclinationDeg = number(f.DeclinationDeg, degDecimals)
	a.DeclinationUncertaintyDeg = number(f.DeclinationUncertaintyDeg, degDecimals)
	a.AnnualChangeDeg = number(f.DeclinationDegPerYear, degDecimals)
	a.InclinationDeg = number(f.InclinationDeg, degDecimals)
	a.TotalNT = number(f.TotalNT, ntDecimals)
	a.HorizontalNT = number(f.HorizontalNT, ntDecimals)
	a.NorthNT = number(f.NorthNT, ntDecimals)
	a.EastNT = number(f.EastNT, ntDecimals)
	a.DownNT = number(f.DownNT, ntDecimals)
	a.Model = north.Model
}

// fillSky leaves out what can't be worked out: outside the sky's years, all.
func (a *northAnswer) fillSky(n northHere) {
	if sun, err := north.Sun(n.at, n.site); err == nil {
		a.Sun = newBodyAnswer(sun)
		if sun.SeenElevationDeg > 0 {
			a.Sun.ShadowAzimuthDeg = azimuth(sun.AzimuthDeg + 180)
		}
	}
	if moon, err := north.Moon(n.at, n.site); err == nil {
		a.Moon = newBodyAnswer(moon.Body)
	}
	if star, err := north.PoleStar(n.at, n.site); err == nil {
		a.PoleStar = newBodyAnswer(star)
	}
}

func newBodyAnswer(b north.Body) *bodyAnswer {
	return &bodyAnswer{AzimuthDeg: azimuth(b.AzimuthDeg), ElevationDeg: number(b.ElevationDeg, degDecimals)}
}

func (n northHere) guideAnswers(guides []guide) []guideAnswer {
	answers := []guideAnswer{}
	for _, w := range guides {
		a := guideAnswer{Name: w.name, Refusal: w.refusal}
		if w.trueKnown {
			a.TrueDeg, a.MagneticDeg = azimuth(w.trueDeg), azimuth(n.magneticDeg(w.trueDeg))
		}
		if w.refusal == "" {
			a.UncertaintyDeg = number(w.sigmaDeg, 2)
		}
		if s := w.sighting; s != nil {
			a.DistanceKm = number(s.DistanceM/1000, kmDecimals)
			if s.ElevationKnown {
				a.ElevationDeg = number(s.ElevationDeg, degDecimals)
			}
		}
		answers = append(answers, a)
	}
	return answers
}

package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// writeHeard writes the heard bursts as a file of marks; its first lines, which
// begin with #, say what it is of.
func (r *reviewFlags) writeHeard(w io.Writer, answer review.Review) error {
	var marks []outing.Mark
	for _, p := range answer.Passes {
		words := fmt.Sprintf("# bursts heard of %s", plain(p.Satellite))
		if p.CatalogueNumber > 0 {
			words += fmt.Sprintf(", catalogue number %d", p.CatalogueNumber)
		}
		if place := r.placeWords(p); place != "" {
			words += ", from " + place
		}
		if _, err := fmt.Fprintln(w, words); err != nil {
			return err
		}
		for _, b := range slices.Concat(p.Bursts, p.Strays) {
			if m, ok := r.heardMark(b); ok {
				m.ID = len(marks) + 1
				marks = append(marks, m)
			}
		}
	}
	return outing.WriteMarks(w, marks)
}

// heardMark makes the mark of a burst that was heard: its time is the start.
func (r *reviewFlags) heardMark(b review.Burst) (outing.Mark, bool) {
	if b.Outcome != review.Heard {
		return outing.Mark{}, false
	}
	m := outing.Mark{At: b.Time, Kind: outing.Heard, Strength: b.Strength, FrequencyHz: b.FrequencyHz.Value}
	if b.Source == review.Nowhere || r.place.or(placeExact) == placeNone {
		return m, true
	}
	step := 0.1
	if r.place.or(placeExact) == placeRounded {
		step = 5
	}
	to := func(x float64) float64 { return math.Round(math.Round(x/step)*step*10) / 10 }
	m.Held = outing.Held{Known: true, AzimuthDeg: track.Wrap360(to(b.Held.AzimuthDeg)), ElevationDeg: to(b.Held.ElevationDeg)}
	return m, true
}

package main

import (
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/elements"

	"github.com/charmbracelet/x/ansi"
)

// maxLikely is how many sets are listed with their likely error: it takes up to
// a few milliseconds each.
const maxLikely = 300

// setAnswer is one set of the answer.
type setAnswer struct {
	Satellite           string   `json:"satellite"`
	CatalogueNumber     int      `json:"catalogue_number"`
	Designator          string   `json:"designator,omitempty"`
	Epoch               instant  `json:"epoch"`
	AgeDays             *float64 `json:"age_days,omitempty"`
	TimeErrorSigmaS     *float64 `json:"time_error_sigma_s,omitempty"`
	Format              string   `json:"format"`
	File                string   `json:"file"`
	MeanMotionRevPerDay float64  `json:"mean_motion_rev_per_day"`
	Eccentricity        float64  `json:"eccentricity"`
	InclinationDeg      float64  `json:"inclination_deg"`
	NodeDeg             float64  `json:"node_deg"`
	PerigeeDeg          float64  `json:"perigee_deg"`
	AnomalyDeg          float64  `json:"anomaly_deg"`
	BStar               float64  `json:"bstar_per_earth_radius"`
}

func newSetAnswer(s elements.Set, now time.Time) setAnswer {
	return setAnswer{
		Satellite: name(s), CatalogueNumber: s.CatalogueNumber, Designator: plain(s.Designator),
		Epoch: instant(s.Epoch), AgeDays: number(s.Age(now).Hours()/24, 3),
		Format: string(s.Format), File: plain(s.File),
		MeanMotionRevPerDay: s.MeanMotionRevPerDay, Eccentricity: s.Eccentricity,
		InclinationDeg: s.InclinationDeg, NodeDeg: s.NodeDeg, PerigeeDeg: s.PerigeeDeg,
		AnomalyDeg: s.AnomalyDeg, BStar: s.BStar,
	}
}

// printSets prints sets of a library. Where these are not too many, each has its
// likely error.
func (sys system) printSets(o *options, l *library, sets []elements.Set) error {
	now := sys.now()
	answers := make([]setAnswer, 0, len(sets))
	rows := newTable("satellite", ">number", "epoch (UTC)", ">days old", ">give or take", ">rev/day", ">inclination", ">eccentricity", "format", "place")
	rows.spare = []string{">eccentricity", "format", ">inclination", ">rev/day", "place"}
	if len(sets) > maxLikely {
		sys.note("of more than %d sets the likely error is left out; --only TEXT lists fewer", maxLikely)
	}
	for _, s := range sets {
		answer, likely := newSetAnswer(s, now), ""
		if len(sets) <= maxLikely {
			if error, err := track.LikelyError(s, l.history(s), now); err == nil {
				answer.TimeErrorSigmaS = number(error.SigmaS, 2)
				likely = sayLate(error.SigmaS)
			}
		}
		answers = append(answers, answer)
		rows.add(s.Name, fmt.Sprint(s.CatalogueNumber), s.Epoch.UTC().Format(time.DateTime),
			fmt.Sprintf("%.1f", s.Age(now).Hours()/24), likely, fmt.Sprintf("%.5f", s.MeanMotionRevPerDay),
			fmt.Sprintf("%.3f°", s.InclinationDeg), fmt.Sprintf("%.6f", s.Eccentricity),
			string(s.Format), l.place(s))
	}
	if o.json {
		return printJSON(sys.stdout, answers)
	}
	if len(sets) == 0 {
		return nil
	}
	_, err := fmt.Fprint(sys.stdout, rows)
	return err
}

// mostPlace is how many columns a place has at most; of a longer one the end is
// said.
const mostPlace = 28

// place says where a set was read; nothing of the store, which is one place.
func (l *library) place(s elements.Set) string {
	if l.store != nil {
		return ""
	}
	place := fmt.Sprintf("%s:%d", s.File, s.Line)
	const cut = "..."
	if over := ansi.StringWidth(place) - mostPlace; over > 0 {
		place = ansi.TruncateLeft(place, over+len(cut), cut)
	}
	return place
}

// sayLate says a likely time error in a cell of a table: "0.4 s", "12 s", "3 min".
func sayLate(s float64) string {
	switch {
	case s < 9.95:
		return fmt.Sprintf("%.1f s", s)
	case s < 119.5:
		return fmt.Sprintf("%.0f s", s)
	case s < 119.5*60:
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.0f h", s/3600)
}

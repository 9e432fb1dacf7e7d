package radio

import (
	"errors"
	"fmt"
	"slices"
)

// What is gone through for a ladder.
var (
	// ladderShapes are the shapes with their loss at the edge, dB.
	ladderShapes = []struct {
		shape  Shape
		edgeDB float64
	}{{Butterworth, 0.05}, {Chebyshev, 0.01}, {Chebyshev, 0.1}, {Chebyshev, 0.5}}
	// ladderMargins is how far the edges are from the wanted band's, by ratio.
	ladderMargins = []float64{1.01, 1.015, 1.02, 1.03, 1.04, 1.07, 1.1, 1.15, 1.2, 1.3, 1.45, 1.7}
	// ladderSpares is how much more is designed for than needed, dB, as parts are
	// not exact.
	ladderSpares = []float64{0, 3, 6, 10, 20}
)

const (
	// mostElements is the highest order that somebody builds by hand.
	mostElements = 9
	// mostResonators is the most that somebody tunes by hand.
	mostResonators = 5
	// ladderTries is how many designs are looked at with their tolerances.
	ladderTries = 12
)

// resonators are the coils of coupled resonators that are gone through, nH; a
// plain ladder has none.
func resonators(coupled bool) []float64 {
	if coupled {
		return []float64{8, 12, 18, 27, 40, 60, 90}
	}
	return []float64{0}
}

// plans calls f for all designs of a form that are gone through.
func (t FilterTask) plans(form Form, coupled bool, p Parts, f func(LadderPlan)) {
	seen := map[LadderPlan]bool{}
	for _, s := range ladderShapes {
		for _, margin := range ladderMargins {
			for _, spare := range ladderSpares {
				for _, nH := range resonators(coupled) {
					plan := LadderPlan{Form: form, Shape: s.shape, EdgeDB: s.edgeDB, ResonatorNH: nH, SystemOhm: t.SystemOhm, Parts: p}
					if form != LowPass {
						plan.LowMHz = t.WantedLowMHz / margin
					}
					if form != HighPass {
						plan.HighMHz = t.WantedHighMHz * margin
					}
					var possible bool
					if plan.Order, possible = t.order(plan, spare); possible && !seen[plan] {
						seen[plan] = true
						f(plan)
					}
				}
			}
		}
	}
}

// ladder returns the filter of a form that does the task best; an error tells why
// there is none.
func (t FilterTask) ladder(form Form, coupled bool, p Parts) (*Ladder, error) {
	if err := t.suits(form); err != nil {
		return nil, err
	}
	type try struct {
		*Ladder
		reached
	}
	var tries []try
	why := errors.New("the bands are too near each other for coils and capacitors")
	t.plans(form, coupled, p, func(plan LadderPlan) {
		exact := plan
		exact.Parts.CoilTolerance, exact.Parts.CapacitorTolerance = 0, 0
		l, err := exact.Design()
		if err == nil {
			err = l.Practical(t.highest(form, coupled))
		}
		if err != nil {
			why = err
			return
		}
		l = l.Rounded()
		tries = append(tries, try{l, t.reach(l)})
	})
	if len(tries) == 0 {
		return nil, why
	}
	byReach := func(a, b try) int { return a.compare(b.reached) }
	slices.SortStableFunc(tries, byReach)
	tries = tries[:min(ladderTries, len(tries))]
	for i := range tries {
		l := tries[i].Ladder
		l.Parts = p
		l.draws = l.draw()
		tries[i].reached = t.reach(l)
	}
	best := slices.MinFunc(tries, byReach)
	if !best.bearing {
		return nil, fmt.Errorf("it would lose %s dB in the wanted band, and %.1f dB can be borne", best.wanted, t.TolerableDB)
	}
	return best.Ladder, nil
}

// suits says whether all that is to be taken off is where a form takes off.
func (t FilterTask) suits(form Form) error {
	for _, s := range t.Stops {
		switch {
		case form == LowPass && s.LowMHz < t.WantedLowMHz:
			return fmt.Errorf("%s is below the wanted band", s.band())
		case form == HighPass && s.HighMHz > t.WantedHighMHz:
			return fmt.Errorf("%s is above the wanted band", s.band())
		}
	}
	return nil
}

// order returns the least order that takes off what has to be, and spare dB; an odd
// one but for coupled resonators.
func (t FilterTask) order(p LadderPlan, spareDB float64) (int, bool) {
	order := 1
	for _, s := range t.Stops {
		over := min(p.Over(s.LowMHz), p.Over(s.HighMHz)) // both are on one side
		n, possible := OrderFor(p.Shape, p.EdgeDB, over, s.NeededDB+spareDB)
		if !possible {
			return 0, false
		}
		order = max(order, n)
	}
	if p.ResonatorNH > 0 {
		return max(order, 2), order <= mostResonators
	}
	order += 1 - order%2
	return order, order <= mostElements
}

// highest returns up to where the parts have to be what they are called: the
// wanted band and, for a plain ladder that takes off above it, the bands there.
func (t FilterTask) highest(form Form, coupled bool) float64 {
	highest := t.WantedHighMHz
	for _, s := range t.Stops {
		if form != HighPass && !coupled {
			highest = max(highest, s.HighMHz)
		}
	}
	return highest
}

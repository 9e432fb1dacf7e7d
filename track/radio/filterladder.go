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
	ladderMargins = []float64{1.02, 1.04, 1.07, 1.1, 1.15, 1.2, 1.3, 1.45, 1.7}
	// ladderSpares is how much more is designed for than needed, dB, as parts are
	// not exact.
	ladderSpares = []float64{0, 3, 6, 10}
)

const (
	// mostElements is the highest order that somebody builds by hand.
	mostElements = 9
	// ladderTries is how many designs are looked at with their tolerances.
	ladderTries = 12
)

// ladder returns the filter of a form that does the task best; an error tells why
// there is none.
func (t FilterTask) ladder(form Form, p Parts) (*Ladder, error) {
	if err := t.suits(form); err != nil {
		return nil, err
	}
	type try struct {
		*Ladder
		reached
	}
	var tries []try
	why := errors.New("the bands are too near each other for coils and capacitors")
	seen := map[LadderPlan]bool{}
	for _, s := range ladderShapes {
		for _, margin := range ladderMargins {
			for _, spare := range ladderSpares {
				plan := LadderPlan{Form: form, Shape: s.shape, EdgeDB: s.edgeDB, SystemOhm: t.SystemOhm, Parts: p}
				if form != LowPass {
					plan.LowMHz = t.WantedLowMHz / margin
				}
				if form != HighPass {
					plan.HighMHz = t.WantedHighMHz * margin
				}
				var possible bool
				if plan.Order, possible = t.order(plan, spare); !possible || seen[plan] {
					continue
				}
				seen[plan] = true
				l, err := plan.Design()
				if err != nil {
					return nil, err
				}
				if err := l.Practical(t.highest(form)); err != nil {
					why = err
					continue
				}
				l = l.Rounded()
				tries = append(tries, try{l, t.reach(nominal{l})})
			}
		}
	}
	if len(tries) == 0 {
		return nil, why
	}
	byReach := func(a, b try) int { return a.compare(b.reached) }
	slices.SortStableFunc(tries, byReach)
	tries = tries[:min(ladderTries, len(tries))]
	for i := range tries {
		tries[i].reached = t.reach(tries[i].Ladder)
	}
	best := slices.MinFunc(tries, byReach)
	if !best.bearing {
		return nil, fmt.Errorf("it would lose %s dB in the wanted band, and %.1f dB can be borne", best.wanted, t.TolerableDB)
	}
	return best.Ladder, nil
}

// nominal is a ladder with each part at its nominal value.
type nominal struct{ *Ladder }

// LossDB implements Response.
func (n nominal) LossDB(mhz float64) Range { return Exactly(n.NominalDB(mhz)) }

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

// order returns the least odd order that takes off what has to be, and spare dB.
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
	order += 1 - order%2
	return order, order <= mostElements
}

// highest returns up to where the parts have to be what they are called: the
// wanted band and, for what takes off above it, the bands there.
func (t FilterTask) highest(form Form) float64 {
	highest := t.WantedHighMHz
	for _, s := range t.Stops {
		if form != HighPass {
			highest = max(highest, s.HighMHz)
		}
	}
	return highest
}

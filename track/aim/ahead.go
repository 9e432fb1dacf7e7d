package aim

import (
	"slices"
	"time"
)

// Ahead returns what to do at each of several times, in order, as far as it can
// be told now: each as Advise would for the next burst after that time, if of the
// bursts between no more was heard than is likely. A burst that is more likely
// missed than heard is taken as missed; others teach nothing. So while nothing has
// been heard, the aims search where the errors may have put the object. Only
// the first counts as advised. It ends early where no burst is left, but always
// says what is believed at the first time.
func (b *Belief) Ahead(at []time.Time) []Advice {
	var all []Advice
	c := b.copy()
	for i, t := range at {
		a := c.Advise(t)
		if a.Next.IsZero() && i > 0 {
			break
		}
		all = append(all, a)
		if a.Next.IsZero() {
			break
		}
		if i == 0 {
			b.advise(t, a)
		}
		if a.HearProbability < 0.5 && i+1 < len(at) {
			over := a.Next.Add(seconds(reactionS))
			if !a.PhaseKnown {
				over = at[i+1]
			}
			c.Observe(Observation{Time: over, Kind: Silent, Held: &a.Aim})
		}
	}
	return all
}

// copy returns a belief that goes its own way.
func (b *Belief) copy() *Belief {
	return &Belief{model: b.model, log: slices.Clone(b.log), holds: slices.Clone(b.holds), grid: b.grid.copy(), narrow: b.narrow, twist: b.twist}
}

func (g *grid) copy() *grid {
	c := *g
	c.rows, c.weights = slices.Clone(g.rows), slices.Clone(g.weights)
	return &c
}

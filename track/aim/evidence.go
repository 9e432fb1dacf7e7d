package aim

import "math"

// evidence keeps count of how surprising the observations were, against how
// surprising a belief that is right must expect them to be.
type evidence struct {
	surprise, expected, variance float64 // nats
	marks                        int     // heard or silent
	stray                        int     // heard where the likeliest phase has no burst
	last                         float64 // probability of the last of those that aren't stray
}

// take takes an observation into account and counts how surprising it was that
// a burst was heard or missed. How strong is no part of that: a burst is mostly
// called by one of three strengths that each were unlikely; nor how many were
// missed before it, which counts by itself. It tells whether the grid should be
// laid again from the prior.
func (g *grid) take(n noted) bool {
	stray := g.stray(n)
	if n.Kind == Heard && !g.model.prior.Schedule.Known() {
		before := n
		before.Kind = missedBefore
		g.evidence.add(before, g.observe(before), false)
	}
	if n.Strength == "" {
		return g.evidence.add(n, g.observe(n), stray)
	}
	plain := n
	plain.Strength, plain.FrequencyHz = "", 0
	p := g.copy().observe(plain)
	g.observe(n)
	return g.evidence.add(n, p, stray)
}

// lapseRate is how often an operator who is busy with an antenna misses a plain
// burst, where that isn't to be called strange (assumed, no source).
const lapseRate = 0.05

// add counts an observation that had the probability p, and tells whether it
// alone is so unlikely that the grid should be laid again from the prior.
func (e *evidence) add(n noted, p float64, stray bool) (again bool) {
	switch n.Kind {
	case Heard, Silent:
		e.marks++
	case missedBefore:
	default:
		return false
	}
	if stray {
		e.stray++
		return false
	}
	e.last = p
	again = p < 0.01
	if n.Kind == Heard {
		p *= 1 - lapseRate
	} else {
		p = 1 - (1-p)*(1-lapseRate)
	}
	p = math.Min(1-1e-9, math.Max(1e-9, p))
	a, b := -math.Log(p), -math.Log(1-p)
	h := p*a + (1-p)*b
	e.surprise += a
	e.expected += h
	e.variance += p * (1 - p) * (a - b) * (a - b)
	return again
}

// explains tells whether what was observed is within what the belief can
// explain. One burst in five at the wrong time may be somebody else's.
func (e *evidence) explains() bool {
	return e.stray <= 1+e.marks/5 && e.surprise-e.expected < 1+3*math.Sqrt(e.variance)
}

// stray tells whether something was heard at a time when the likeliest phase
// has no burst, or outside the pass.
func (g *grid) stray(n noted) bool {
	if n.Kind != Heard {
		return false
	}
	best := g.phases[0]
	for _, p := range g.phases {
		if p.weight > best.weight {
			best = p
		}
	}
	for _, b := range g.model.soundings(n, best) {
		if b.heard && g.model.skies[0].covers(b.at) { // all cover the same times
			return false
		}
	}
	return true
}

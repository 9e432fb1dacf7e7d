package aim

import "math"

// evidence keeps count of how surprising the observations were, against how
// surprising a belief that is right must expect them to be.
type evidence struct {
	surprise, expected, variance float64 // nats
	stray                        int     // heard where no burst can be
	marks                        int
}

// add counts an observation that had the probability p, and tells whether it
// alone is so unlikely that the grid should be laid again from the prior.
func (e *evidence) add(n noted, p float64) bool {
	if n.Kind != Heard && n.Kind != Silent {
		return false
	}
	e.marks++
	p = math.Min(1-1e-9, math.Max(1e-9, p))
	a, b := -math.Log(p), -math.Log(1-p)
	h := p*a + (1-p)*b
	e.surprise += a
	e.expected += h
	e.variance += p * (1 - p) * (a - b) * (a - b)
	return p < 0.01
}

// explains tells whether what was observed is within what the belief can
// explain.
func (e *evidence) explains() bool {
	return e.surprise-e.expected < 1+3*math.Sqrt(e.variance)
}

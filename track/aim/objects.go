package aim

import "math"

// ObjectBelief is what is believed about one of several objects, if it is the
// one that sends.
type ObjectBelief struct {
	Probability float64 // that it is
	TimeErrorS  Estimate
	// OffsetHz is what sender and receiver together are off, positive for too
	// high, and OffsetSigmaHz its standard deviation.
	OffsetHz, OffsetSigmaHz float64
}

// Objects returns what is believed about each object, in the order of the prior.
// An object that is ruled out has the probability 0 and nothing else.
func (b *Belief) Objects() []ObjectBelief {
	g := b.grid
	m := g.marginals()
	all := make([]ObjectBelief, len(m.objects))
	second := make([]float64, len(all))
	for i := range g.rows {
		r := &g.rows[i]
		all[r.object].OffsetHz += r.mass * r.offsetHz
		second[r.object] += r.mass * (r.offsetHz*r.offsetHz + r.offsetVar)
	}
	for k := range all {
		o, p := &all[k], m.objects[k]
		if p == 0 {
			continue
		}
		o.Probability = p
		o.TimeErrorS = estimate(g.late[k], m.late[k])
		o.OffsetHz /= p
		o.OffsetSigmaHz = math.Sqrt(max(0, second[k]/p-o.OffsetHz*o.OffsetHz))
	}
	return all
}

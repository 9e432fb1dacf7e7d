package review

import (
	"math"
	"slices"
)

// profile is how likely each heading error and each time error makes what one
// pass shows, whatever was believed of the error before. It can be multiplied
// with that of another pass.
type profile struct {
	heading, late           []float64 // on the lasting axes; nil: nothing is known
	headingSigma, lateSigma float64   // what was usual
}

// The axes of what lasts: whole degrees all round, whole seconds.
const (
	headingHalf = 180
	lateHalf    = 300
)

// profiles sums the terms for each error, with its own prior left out.
func (w *weigher) profiles(terms []term) profile {
	g := w.coarse
	o := w.offsets(g.late)
	heading, late := g.empty(), g.empty()
	for _, t := range terms {
		if t.share < fewShares/10 && t.prior < fewShares {
			continue
		}
		laid := w.laid(g, o, sizesAndTuning{t.sizes, t.tuned})
		if !slices.Contains(t.hypothesis, North) {
			open := laid
			open.heading = make([]float64, len(g.heading.at))
			for i := range open.heading {
				open.heading[i] = 1
			}
			g.sum(g.of(t.key), open, heading, t.prior)
		}
		if !slices.Contains(t.hypothesis, Elements) {
			open := laid
			open.late = o.likely[0]
			if t.tuned {
				open.late = o.likely[1]
			}
			g.sum(g.of(t.key), open, late, t.prior)
		}
	}
	return profile{
		heading: spread(g.heading, heading.heading, headingHalf), late: spread(g.late, late.late, lateHalf),
		headingSigma: w.limits.headingSigma, lateSigma: w.limits.lateSigma,
	}
}

// spread lays values at an axis's cells on whole numbers, straight from one to
// the next; the largest becomes 1.
func spread(a axis, values []float64, half int) []float64 {
	most := slices.Max(values)
	if !(most > 0) {
		return nil
	}
	all := make([]float64, 2*half+1)
	k := 0
	for i := range all {
		x := float64(i - half)
		for k < len(a.at)-2 && a.at[k+1] < x {
			k++
		}
		f := (x - a.at[k]) / (a.at[k+1] - a.at[k])
		f = max(0, min(1, f))
		all[i] = (values[k]*(1-f) + values[k+1]*f) / most
	}
	return all
}

// blurred is a profile with each value scattered normally.
func blurred(values []float64, sigma float64) []float64 {
	reach := int(3 * sigma)
	all := make([]float64, len(values))
	for i := range values {
		sum, total := 0.0, 0.0
		for d := -reach; d <= reach; d++ {
			if i+d < 0 || i+d >= len(values) {
				continue
			}
			b := math.Exp(-float64(d*d) / (2 * sigma * sigma))
			sum, total = sum+b*values[i+d], total+b
		}
		all[i] = sum / total
	}
	return all
}

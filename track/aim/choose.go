package aim

import (
	"math"
	"time"

	"foreaim/track"
)

// horizon is what weighing an aim looks at: the next burst, and the two after
// it. Looking further overrates what the next burst teaches: those after it
// teach too.
type horizon struct {
	next  shot
	later []laterShot
}

// laterShot is a burst after the next one.
type laterShot struct {
	hits [][]float64 // by aim and point
	all  []float64   // sum over the points, by aim
}

// shots works out the next burst after now that may be heard and those after
// it; false when none is left.
func (b *Belief) horizon(now time.Time, points []point) (horizon, bool) {
	g := b.grid
	_, end := g.model.window()
	var h horizon
	found := false
	for n := 0; n < maxAhead; n++ {
		at := make([]time.Time, len(g.phases))
		first := end
		for p := range at {
			at[p] = g.model.from(now, g.phases[p]).Add(time.Duration(n) * g.model.prior.Schedule.Period)
			if at[p].Before(first) {
				first = at[p]
			}
		}
		if !first.Before(end) {
			break
		}
		s := g.shot(at, points)
		switch {
		case s.up < leastUp && found:
			return h, true // it sets
		case s.up < leastUp:
		case !found:
			h.next, found = s, true
		case len(h.later) < laterBursts:
			h.later = append(h.later, s.later())
		default:
			return h, true
		}
	}
	return h, found
}

// maxAhead bounds how many bursts ahead are looked at.
const maxAhead = 200

// later works out what a shot needs to be weighed as one of those after the
// next.
func (s *shot) later() laterShot {
	var l laterShot
	for _, aim := range s.candidates(laterCount) {
		into := make([]float64, len(s.seen))
		l.all = append(l.all, s.hits(aim, into)*float64(len(into)))
		l.hits = append(l.hits, into)
	}
	return l
}

// worth returns how many bursts are heard by holding an aim for the next one,
// and then, knowing whether it was heard, the best aim for each of those after
// it, without learning more.
func (h *horizon) worth(aim track.Vector, into []float64) float64 {
	worth := h.next.hits(aim, into) * float64(len(into))
	for k := range h.later {
		l := &h.later[k]
		bestHeard, bestSilent := 0.0, 0.0
		for i, hits := range l.hits {
			heard := 0.0
			for j, p := range into {
				heard += p * hits[j]
			}
			bestHeard = max(bestHeard, heard)
			bestSilent = max(bestSilent, l.all[i]-heard)
		}
		worth += bestHeard + bestSilent
	}
	return worth / float64(len(into))
}

// choose returns the aim that is worth most, or leading, where nothing else is
// worth leaving it.
func (h *horizon) choose(lead track.Vector, beamwidthDeg float64) track.Vector {
	into := make([]float64, len(h.next.seen))
	leading := math.Inf(-1)
	if lead[2] > 0 {
		leading = h.worth(lead, into) + worthLeaving
	}
	best, most := lead, math.Inf(-1)
	try := func(v track.Vector) bool {
		if v[2] < 0 {
			return false
		}
		if w := h.worth(v, into); w > most {
			best, most = v, w
			return true
		}
		return false
	}
	for _, v := range h.next.candidates(candidateCount) {
		try(v)
	}
	for step := beamwidthDeg / 6; step > beamwidthDeg/25; {
		better := false
		for _, v := range around(best, step) {
			better = try(v) || better
		}
		if !better {
			step /= 2
		}
	}
	if leading >= most {
		return lead
	}
	return best
}

// around returns four directions a few degrees from another.
func around(v track.Vector, deg float64) [4]track.Vector {
	d := directionOf(v)
	sinE, cosE := sincosDeg(d.ElevationDeg)
	sinA, cosA := sincosDeg(d.AzimuthDeg)
	across := track.Vector{cosA, -sinA, 0}
	up := track.Vector{-sinA * sinE, -cosA * sinE, cosE}
	sin, cos := sincosDeg(deg)
	var out [4]track.Vector
	for i := range 3 {
		out[0][i] = cos*v[i] + sin*across[i]
		out[1][i] = cos*v[i] - sin*across[i]
		out[2][i] = cos*v[i] + sin*up[i]
		out[3][i] = cos*v[i] - sin*up[i]
	}
	return out
}

func sincosDeg(deg float64) (sin, cos float64) { return math.Sincos(deg * rad) }

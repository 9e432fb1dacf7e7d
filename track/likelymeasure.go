package track

import (
	"math"
	"slices"
	"time"

	"foreaim/track/elements"
)

const (
	// maxMeasured is how many of the newest sets are compared with each other.
	maxMeasured = 30
	// leastLag is the least time between two sets to be compared: nearer ones
	// are the same set in two encodings, or two fits of the same tracking.
	leastLag = 30 * time.Minute
	// nearness is the width, in natural logarithms, within which differences
	// over longer and shorter stretches count for an age.
	nearness = 0.4
	// usualCounts is how many measurements what is usual is worth.
	usualCounts = 0.2
)

// measured is the error of an earlier set when a later one came.
type measured struct {
	days float64 // from the one's epoch to the other's
	// ratio2 is the square of the time error against what is usual.
	ratio2 float64
}

// measurements are those of one object.
type measurements struct {
	all      []measured
	spanDays float64 // from the first epoch to the last
}

// measure compares every set with every later one.
func measure(usual usualError, sets []elements.Set) measurements {
	orbits := toCompare(sets)
	var m measurements
	if len(orbits) < 2 {
		return m
	}
	m.spanDays = orbits[len(orbits)-1].epoch.Sub(orbits[0].epoch).Hours() / 24
	for j, later := range orbits {
		truth, err := later.State(later.epoch)
		if err != nil {
			continue
		}
		for _, earlier := range orbits[:j] {
			late, ok := earlier.late(truth, later.epoch)
			if !ok {
				continue
			}
			days := later.epoch.Sub(earlier.epoch).Hours() / 24
			sigma := math.Hypot(usual.sigma(days), usual.sigma(0))
			m.all = append(m.all, measured{days, late * late / (sigma * sigma)})
		}
	}
	return m
}

// toCompare returns the newest sets, far enough apart, the oldest first. Sets
// that can't be propagated are left out.
func toCompare(sets []elements.Set) []*Orbit {
	sets = slices.Clone(sets)
	slices.SortStableFunc(sets, func(a, b elements.Set) int { return b.Epoch.Compare(a.Epoch) })
	var orbits []*Orbit
	for _, set := range sets {
		if n := len(orbits); n == maxMeasured || n > 0 && orbits[n-1].epoch.Sub(set.Epoch) < leastLag {
			continue
		}
		if o, err := NewOrbit(set); err == nil {
			orbits = append(orbits, o)
		}
	}
	slices.Reverse(orbits)
	return orbits
}

// late returns the seconds by which an object that is in the state at t is late
// on this orbit; false when it comes nowhere near the state within a quarter of
// a revolution.
func (o *Orbit) late(truth State, t time.Time) (lateS float64, ok bool) {
	late := 0.0
	for range 20 {
		s, err := o.State(t.Add(-seconds(late)))
		if err != nil || math.Abs(late) > o.periodS/4 {
			return 0, false
		}
		// Ahead of the truth on this orbit: the object comes later.
		step := dot(sub(s.PositionKm, truth.PositionKm), s.VelocityKmS) / dot(s.VelocityKmS, s.VelocityKmS)
		late += step
		if math.Abs(step) < 1e-4 {
			return late, true
		}
	}
	return 0, false
}

// factor returns by how much to multiply what is usual at an age, and on how
// many differences that rests.
//
// Differences over about the age are averaged in squares. They overlap, so that
// they count for no more than the stretches of that length that fit into the
// history; together with what is usual they give a geometric mean. It is then
// widened, as one must with few measurements (about Student's t).
func (m measurements) factor(days float64) (factor float64, count int) {
	if len(m.all) == 0 {
		return 1, 0
	}
	shortest, longest := m.all[0].days, m.all[0].days
	for _, d := range m.all {
		shortest, longest = min(shortest, d.days), max(longest, d.days)
	}
	near := min(max(days, shortest), longest)
	var weights, weights2, squares, logs float64
	for _, d := range m.all {
		x := math.Log(d.days/near) / nearness
		w := math.Exp(-x * x / 2)
		weights += w
		weights2 += w * w
		squares += w * d.ratio2
		logs += w * math.Log(d.days)
		if w > 0.1 {
			count++
		}
	}
	n := min(weights*weights/weights2, m.spanDays/near)
	square := math.Pow(max(squares/weights, 1e-6), n/(n+usualCounts)) * (1 + 1.5/n)
	if days > longest {
		square *= days / math.Exp(logs/weights)
	}
	return math.Sqrt(square), count
}

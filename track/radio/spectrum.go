package radio

import (
	"math"
	"slices"
)

// stretch is a part of a sweep without holes, and its floor.
type stretch struct {
	points  []Point
	stepMHz float64
	floor   []float64 // by point
	scatter float64   // of the floor's points about it: noise and ripple, dB
	noise   float64   // of a single point against its neighbours, dB
}

const (
	// holeSteps is from which distance on there is a hole between two points.
	holeSteps = 5.0
	// leastPoints is how many it takes to tell a floor from what stands on it.
	leastPoints = 32
)

// stretches cuts a sweep at its holes. Parts with too few points are left out.
func (s Sweep) stretches() []stretch {
	if len(s.Points) < leastPoints {
		return nil
	}
	steps := make([]float64, len(s.Points)-1)
	for i := range steps {
		steps[i] = s.Points[i+1].MHz - s.Points[i].MHz
	}
	step := median(steps)
	var all []stretch
	from := 0
	for i := 1; i <= len(s.Points); i++ {
		if i < len(s.Points) && steps[i-1] < holeSteps*step {
			continue
		}
		if i-from >= leastPoints {
			part := stretch{points: s.Points[from:i], stepMHz: step}
			part.findFloor()
			all = append(all, part)
		}
		from = i
	}
	return all
}

const (
	// blockPoints are taken together for the floor: what is narrow drops out.
	blockPoints = 5
	mostBlocks  = 400
	// lowShare is how much a point above the floor counts against one below it,
	// to begin with: most of a sweep may be occupied.
	lowShare = 0.02
)

// findFloor draws a stiff line under all that stands out: first one that gives
// way to points below it much more than to those above it (P. Eilers' asymmetric
// least squares, from memory), then one through those that lie near it.
func (s *stretch) findFloor() {
	n := len(s.points)
	size := max(blockPoints, (n+mostBlocks-1)/mostBlocks)
	var blocks []float64
	for from := 0; from < n; from += size {
		to := min(from+size, n)
		if n-to < size/2 {
			to = n
		}
		values := make([]float64, 0, size)
		for _, p := range s.points[from:to] {
			values = append(values, p.Level)
		}
		blocks = append(blocks, median(values))
		if to == n {
			break
		}
	}
	m := len(blocks)
	// Waves as long as the stretch are followed by half.
	stiff := math.Pow(float64(m)/(2*math.Pi), 4)
	weights := make([]float64, m)
	for i := range weights {
		weights[i] = 1
	}
	var line []float64
	for range 12 {
		line = smooth(blocks, weights, stiff)
		for i := range weights {
			weights[i] = lowShare
			if blocks[i] < line[i] {
				weights[i] = 1 - lowShare
			}
		}
	}
	rest := make([]float64, m)
	near := 6.0
	for turn := range 6 {
		for i := range rest {
			rest[i] = blocks[i] - line[i]
		}
		low := quantile(rest, 0.1)
		if turn > 0 {
			low = 0
		}
		var kept []float64
		for i := range weights {
			weights[i] = 1e-4
			if math.Abs(rest[i]-low) < near {
				weights[i] = 1
				kept = append(kept, rest[i])
			}
		}
		line = smooth(blocks, weights, stiff)
		near = min(6, max(2, 3.5*spreadOf(kept)))
	}
	s.stretchOut(line, size)
	s.measure(near)
}

// stretchOut takes the line from blocks to points.
func (s *stretch) stretchOut(line []float64, size int) {
	s.floor = make([]float64, len(s.points))
	last := len(line) - 1
	for i := range s.floor {
		x := (float64(i) - float64(size-1)/2) / float64(size)
		k := min(max(int(math.Floor(x)), 0), max(last-1, 0))
		next := min(k+1, last)
		s.floor[i] = line[k] + (line[next]-line[k])*(x-float64(k))
	}
}

// measure tells how rough the floor is, from the points within near dB of it.
func (s *stretch) measure(near float64) {
	var rest, jumps []float64
	for i, p := range s.points {
		d := p.Level - s.floor[i]
		if math.Abs(d) > near+3 {
			continue
		}
		rest = append(rest, d)
		if i > 0 {
			if before := s.points[i-1].Level - s.floor[i-1]; math.Abs(before) <= near+3 {
				jumps = append(jumps, d-before)
			}
		}
	}
	s.scatter, s.noise = spreadOf(rest), spreadOf(jumps)/math.Sqrt2
}

// smooth returns the line that is near the values and bends little: weights of
// nearness against the square of second differences (E. Whittaker 1923, R.
// Henderson 1924), by Cholesky's method for a band of five diagonals.
func smooth(values, weights []float64, stiff float64) []float64 {
	n := len(values)
	d0, d1, d2, z := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range values {
		d0[i], z[i] = weights[i], weights[i]*values[i]
	}
	for i := 0; i+2 < n; i++ { // (1, −2, 1) squared
		d0[i] += stiff
		d0[i+1] += 4 * stiff
		d0[i+2] += stiff
		d1[i] -= 2 * stiff
		d1[i+1] -= 2 * stiff
		d2[i] += stiff
	}
	for i := range values {
		for _, k := range []struct{ back, of int }{{1, i - 1}, {2, i - 2}} {
			if k.of < 0 {
				continue
			}
			l := d1[k.of]
			if k.back == 2 {
				l = d2[k.of]
			}
			l /= d0[k.of]
			d0[i] -= l * l * d0[k.of]
			z[i] -= l * z[k.of]
			if k.back == 1 && i+1 < n {
				d1[i] -= l * d2[k.of]
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		z[i] /= d0[i]
		if i+1 < n {
			z[i] -= d1[i] / d0[i] * z[i+1]
		}
		if i+2 < n {
			z[i] -= d2[i] / d0[i] * z[i+2]
		}
	}
	return z
}

func median(values []float64) float64 { return quantile(values, 0.5) }

// quantile returns the value that a share of them lies below; 0 of none.
func quantile(values []float64, share float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	x := share * float64(len(sorted)-1)
	k := int(x)
	next := min(k+1, len(sorted)-1)
	return sorted[k] + (sorted[next]-sorted[k])*(x-float64(k))
}

// spreadOf returns the standard deviation that a normal distribution with the
// same median distance from its median has.
func spreadOf(values []float64) float64 {
	middle := median(values)
	off := make([]float64, len(values))
	for i, v := range values {
		off[i] = math.Abs(v - middle)
	}
	return 1.4826 * median(off)
}

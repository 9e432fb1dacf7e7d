package north

import "math"

// What is expected of a receiver's noise before any of it is seen.
const (
	// walkNoiseM is its standard deviation along each axis, for an HDOP of 1.
	// Common practice for a receiver in the open, no source.
	walkNoiseM = 3.0
	// walkNoiseWeight is how many independent fixes that expectation is worth.
	walkNoiseWeight = 8.0
	// walkWiden makes up for the few models that are tried instead of all. Found
	// with simulated walks.
	walkWiden = 1.04
)

// walkModel is one way the noise may be: a drift that forgets itself in tau
// seconds, and an unrelated part with a variance white times the drift's.
type walkModel struct{ tau, white float64 }

// walkModels is every noise that is tried, equally likely but for a lean
// towards slow drift (weight tau^0.3), which is the one that can't be seen.
func walkModels() []walkModel {
	var models []walkModel
	for _, tau := range []float64{5, 8.5, 14, 24, 40, 68, 115, 200, 340, 580} {
		for _, white := range []float64{0.0003, 0.003, 0.01, 0.03, 0.1} {
			models = append(models, walkModel{tau, white})
		}
	}
	return models
}

// walkSeen is what one model makes of a walk, seen from an assumed bearing.
type walkSeen struct {
	walkModel
	turn, variance float64 // of the true bearing from the assumed one, rad and rad²
	speed          float64 // m/s
	drift          float64 // the drift's variance, m²
	log            float64 // of how well the model explains the walk
}

// see fits a straight walk at a steady pace under one model, by generalised
// least squares. The noise is judged by the sideways part alone, since nobody's
// pace is steady; an unsteady pace does not bend the bearing, since sideways a
// straight walk doesn't move whatever its pace.
func (w *walked) see(m walkModel, sin, cos float64) walkSeen {
	// A Kalman filter of the drift makes the noise white: it runs over a
	// constant, the time, and the walk's sideways and forward part alike.
	const one, clock, side, ahead = 0, 1, 2, 3
	var (
		state    [4]float64
		variance = 1.0 // of the drift, in units of its own
		products [4][4]float64
		logs     float64
		middle   = w.seconds() / 2
	)
	for i, t := range w.t {
		if i > 0 {
			keep := math.Exp((w.t[i-1] - t) / m.tau)
			variance = keep*keep*variance + 1 - keep*keep
			for k := range state {
				state[k] *= keep
			}
		}
		total := variance + m.white
		gain, root := variance/total, math.Sqrt(total)
		logs += math.Log(total)
		forward, right := w.along(i, sin, cos)
		var news [4]float64
		for k, v := range [4]float64{one: 1, clock: t - middle, side: right, ahead: forward} {
			news[k] = (v - state[k]) / root
			state[k] += gain * (v - state[k])
		}
		variance *= 1 - gain
		for j := range news {
			for k := j; k < len(news); k++ {
				products[j][k] += news[j] * news[k]
			}
		}
	}
	p := &products
	det := p[one][one]*p[clock][clock] - p[one][clock]*p[one][clock]
	slope := func(of int) float64 { return (p[one][one]*p[clock][of] - p[one][clock]*p[one][of]) / det }
	start := (p[clock][clock]*p[one][side] - p[one][clock]*p[clock][side]) / det
	rest := max(0, p[side][side]-slope(side)*p[clock][side]-start*p[one][side])

	// The drift's variance has a scaled inverse chi-squared prior.
	freedom := float64(len(w.t)) - 2 + walkNoiseWeight
	squares := walkNoiseWeight*w.noiseM*w.noiseM + rest
	seen := walkSeen{walkModel: m, speed: slope(ahead), drift: squares / (freedom - 2)}
	seen.turn = slope(side) / seen.speed
	seen.variance = seen.drift * p[one][one] / det / (seen.speed * seen.speed)
	seen.log = 0.3*math.Log(m.tau) - logs/2 - math.Log(det)/2 - freedom/2*math.Log(squares)
	return seen
}

// walkFit is the models taken together, each with the weight that it earned.
type walkFit struct {
	bearing, sigma float64 // rad
	seen           []walkSeen
	weights        []float64 // add up to 1
}

// fit starts from a rough bearing, in radians.
func (w *walked) fit(bearing float64) walkFit {
	f := walkFit{bearing: bearing}
	models := walkModels()
	for range 2 { // the turn is small the second time, so that its angle is its slope
		sin, cos := math.Sincos(f.bearing)
		f.seen, f.weights = nil, nil
		best := math.Inf(-1)
		for _, m := range models {
			seen := w.see(m, sin, cos)
			// A walk that gets nowhere under a model has no direction under it.
			if seen.speed > 0 && !math.IsNaN(seen.log) {
				f.seen = append(f.seen, seen)
				best = max(best, seen.log)
			}
		}
		sum, turn := 0.0, 0.0
		for _, s := range f.seen {
			weight := math.Exp(s.log - best)
			f.weights = append(f.weights, weight)
			sum += weight
			turn += weight * s.turn
		}
		if sum == 0 {
			return walkFit{bearing: bearing, sigma: math.Inf(1)}
		}
		for i := range f.weights {
			f.weights[i] /= sum
		}
		turn /= sum
		f.sigma = f.halfWidth(turn) * walkWiden
		f.bearing += math.Atan(turn)
	}
	return f
}

// oneSigma is the share of a normal distribution within a standard deviation.
const oneSigma = 0.6827

// halfWidth returns half the width of the interval about a turn that holds
// oneSigma of what the models say.
func (f *walkFit) halfWidth(turn float64) float64 {
	low, high := 0.0, 0.0
	for _, s := range f.seen {
		high = max(high, math.Abs(s.turn-turn)+2*math.Sqrt(s.variance))
	}
	for range 40 {
		half := (low + high) / 2
		held := 0.0
		for i, s := range f.seen {
			unit := math.Sqrt(2 * s.variance)
			held += f.weights[i] * (math.Erf((turn+half-s.turn)/unit) - math.Erf((turn-half-s.turn)/unit)) / 2
		}
		if held < oneSigma {
			low = half
		} else {
			high = half
		}
	}
	return high
}

// further returns how much further a walk of lengthM must go, at its pace, for
// its uncertainty to come down to want rad; m, rounded up to tens.
func (f *walkFit) further(want, lengthM float64) float64 {
	if len(f.seen) == 0 {
		return furthestWalkM
	}
	now := f.expected(lengthM)
	more := 10.0
	for more < furthestWalkM && f.sigma*math.Sqrt(f.expected(lengthM+more)/now) > want {
		more += 10
	}
	return more
}

// expected returns the variance of the bearing, rad², of a walk of a length in
// metres: that of the slope of a straight line under a Gauss–Markov drift seen
// all the time, worked out in closed form, over all models.
func (f *walkFit) expected(lengthM float64) float64 {
	sum := 0.0
	for i, s := range f.seen {
		t := lengthM / s.speed
		rate := 2 * s.drift / s.tau // of the drift's spreading, m²/s
		sum += f.weights[i] * rate / (t * (1 + t/(2*s.tau) + t*t/(12*s.tau*s.tau))) / (s.speed * s.speed)
	}
	return sum
}

package review

import "math"

// limits are where the usual ends and a cause begins.
type limits struct {
	lateS, headingDeg, marginDB          float64 // marginDB at 1000 km
	lateSigma, headingSigma, marginSigma float64
	marginMean                           float64
	wrongObject                          float64 // the part of mistakes with the elements
}

// size is what is believed of an error that is a cause when it is large.
type size struct {
	cause bool
	usual float64 // how much of a cause is only the usual error, large by chance
}

// sizes are those of the errors.
type sizes struct {
	late, heading, weak size
	anyLate             bool // the usual time error, beyond the limit or not
}

// priors lays what is believed before on a grid's axes. A usual error is normally
// distributed up to the limit; one that is a cause lies beyond it: as the tail
// of the usual, or anything.
func (l limits) priors(g *grid, s sizes) weights {
	late := s.late
	late.usual /= 1 - l.wrongObject*(1-late.usual) // where it is this object
	w := weights{
		late:    beyond(g.late, g.late.normal(0, l.lateSigma), l.wideLate(g.late), func(x float64) bool { return math.Abs(x) > l.lateS }, late),
		heading: beyond(g.heading, g.heading.normal(0, l.headingSigma), l.wideHeading(g.heading), func(x float64) bool { return math.Abs(x) > l.headingDeg }, s.heading),
		margin:  beyond(g.margin, g.margin.normal(l.marginMean, l.marginSigma), l.wideMargin(g.margin), func(x float64) bool { return x < l.marginDB }, s.weak),
	}
	if s.anyLate {
		w.late = g.late.normal(0, l.lateSigma)
	}
	return w
}

func beyond(a axis, usual, wide []float64, isCause func(float64) bool, s size) []float64 {
	w := make([]float64, len(a.at))
	part := func(from []float64, share float64) {
		sum := 0.0
		for i, x := range a.at {
			if isCause(x) == s.cause {
				sum += from[i]
			}
		}
		for i, x := range a.at {
			if sum > 1e-12 && isCause(x) == s.cause {
				w[i] += share * from[i] / sum
			}
		}
	}
	if s.cause {
		part(usual, s.usual)
		part(wide, 1-s.usual)
	} else {
		part(usual, 1)
	}
	return w
}

// The wide distributions are guesses (no source): late or early by some minutes;
// north off by some tens of degrees, or anything; a signal up to 20 dB too weak.
func (l limits) wideLate(a axis) []float64 {
	w := make([]float64, len(a.at))
	for i, x := range a.at {
		w[i] = math.Exp(-math.Abs(x)/150) * a.width[i]
	}
	return w
}

func (l limits) wideHeading(a axis) []float64 {
	w := a.normal(0, 40)
	for i := range w {
		w[i] += 0.25 * a.width[i] / 360
	}
	return w
}

func (l limits) wideMargin(a axis) []float64 {
	w := make([]float64, len(a.at))
	for i, x := range a.at {
		if x > l.marginDB-20 {
			w[i] = a.width[i]
		}
	}
	return w
}

// tails are how likely an error that is usual is beyond its limit, by cause; 0 for
// what is no size.
func (l limits) tails() (all [causeCount]float64) {
	both := func(limit, sigma float64) float64 { return math.Erfc(limit / sigma / math.Sqrt2) }
	all[Elements], all[North] = both(l.lateS, l.lateSigma), both(l.headingDeg, l.headingSigma)
	all[WeakLink] = 0.5 * math.Erfc((l.marginMean-l.marginDB)/l.marginSigma/math.Sqrt2)
	return all
}

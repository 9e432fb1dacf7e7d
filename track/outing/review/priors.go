package review

import "math"

// limits are where the usual ends and a cause begins.
type limits struct {
	lateS, headingDeg, marginDB          float64 // marginDB at 1000 km
	lateSigma, headingSigma, marginSigma float64
	marginMean                           float64
}

// sizes says which of the causes that are sizes are at work.
type sizes struct {
	late, heading, weak bool
	anyLate             bool // the usual time error, beyond the limit or not
}

func sizesOf(h hypothesis) (s sizes) {
	for _, c := range h {
		switch c {
		case Elements:
			s.late = true
		case North:
			s.heading = true
		case WeakLink:
			s.weak = true
		}
	}
	return s
}

// priors lays what is believed before on a grid's axes. A usual error is normally
// distributed up to the limit; one that is a cause lies beyond it: as the tail
// of the usual, or anything.
func (l limits) priors(g *grid, s sizes) weights {
	w := weights{
		late:    beyond(g.late, g.late.normal(0, l.lateSigma), l.wideLate(g.late), func(x float64) bool { return math.Abs(x) > l.lateS }, s.late),
		heading: beyond(g.heading, g.heading.normal(0, l.headingSigma), l.wideHeading(g.heading), func(x float64) bool { return math.Abs(x) > l.headingDeg }, s.heading),
		margin:  beyond(g.margin, g.margin.normal(l.marginMean, l.marginSigma), l.wideMargin(g.margin), func(x float64) bool { return x < l.marginDB }, s.weak),
	}
	if s.anyLate {
		w.late = g.late.normal(0, l.lateSigma)
	}
	return w
}

// tailShare is how much of a cause is only the tail of what is usual.
const tailShare = 0.2

func beyond(a axis, usual, wide []float64, isCause func(float64) bool, cause bool) []float64 {
	w := make([]float64, len(a.at))
	part := func(from []float64, share float64) {
		sum := 0.0
		for i, x := range a.at {
			if isCause(x) == cause {
				sum += from[i]
			}
		}
		for i, x := range a.at {
			if sum > 1e-12 && isCause(x) == cause {
				w[i] += share * from[i] / sum
			}
		}
	}
	if cause {
		part(usual, tailShare)
		part(wide, 1-tailShare)
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

// tails are how likely the usual error is beyond its limit.
func (l limits) tails() (late, heading, weak float64) {
	both := func(limit, sigma float64) float64 { return math.Erfc(limit / sigma / math.Sqrt2) }
	return both(l.lateS, l.lateSigma), both(l.headingDeg, l.headingSigma),
		0.5 * math.Erfc((l.marginMean-l.marginDB)/l.marginSigma/math.Sqrt2)
}

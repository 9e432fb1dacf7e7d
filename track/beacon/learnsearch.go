package beacon

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// How many hypotheses are kept after each mark, and how much less likely than
// the best they may be (natural logarithm). An unknown period has many that
// differ only in how many bursts were missed.
const (
	keptKnown, keptUnknown = 64, 600
	keptLog                = 9.5
)

// mostSteps is the most numbers of periods between two marks that are looked
// at: where more are possible, the phase is lost.
const mostSteps = 100

// mostMissed is the most periods between two marks that are to tell an unknown
// period: with more bursts missed, hardly any would be heard, and every period
// would fit.
const mostMissed = 50

// search goes through the marks in order of time and keeps the hypotheses that
// explain them. Times are in seconds after ref.
type search struct {
	prior    Prior
	ref      time.Time
	marks    []timed
	windows  []window // of listening: sorted, apart from each other
	listened float64  // s in all
	passes   int
	falseS   float64 // mean time between false marks by the prior, s
	falseLog float64 // logarithm of 1 / (listened + falseS), 1/s
	unpaired float64 // logarithm of the density given to a mark while the period is unknown, 1/s
	all      []hypothesis
}

type timed struct {
	at, sigma float64
	newPass   bool
	between   float64 // halfway from the mark before; valid with newPass
}

func newSearch(prior Prior, marks []Mark, order []int, listened []Interval) *search {
	s := &search{prior: prior, passes: min(1, len(order))}
	switch {
	case len(order) > 0:
		s.ref = marks[order[0]].Time.UTC()
	case !prior.Schedule.First.IsZero():
		s.ref = prior.Schedule.First.UTC()
	}
	s.marks = make([]timed, len(order))
	for i, o := range order {
		m := timed{at: sinceS(s.ref, marks[o].Time), sigma: marks[o].SigmaS}
		if i > 0 && m.at-s.marks[i-1].at > passGap.Seconds() {
			m.newPass, m.between = true, (m.at+s.marks[i-1].at)/2
			s.passes++
		}
		s.marks[i] = m
	}
	s.listen(listened)
	perS := 1 / prior.Schedule.Period.Seconds()
	if prior.Schedule.Period == 0 {
		perS = float64(max(len(order), 1)) / max(s.listened, 1)
		s.unpaired = math.Log(perS)
	}
	s.falseS = 1 / max(prior.FalseShare*perS, 1e-9)
	s.falseLog = -math.Log(s.listened + s.falseS)
	if len(order) > 0 {
		s.run()
		s.all = s.kept(append(s.all, s.nothing(perS)), keptUnknown)
	}
	return s
}

// nothing is the story that nothing was heard of the beacon and all marks are
// false: then they come as often as marks do.
func (s *search) nothing(perS float64) hypothesis {
	const weight, often = 0.05, 0.5 // guesses, no source
	h := hypothesis{period: s.prior.Schedule.Period.Seconds(), falseMarks: len(s.marks), scale: 1}
	h.varPeriod = math.Pow(s.prior.PeriodSigma*h.period, 2)
	// As in branch, with another β; there β/(T+β) is left out.
	rareS := 1 / (often * perS)
	factorial, _ := math.Lgamma(float64(len(s.marks) + 1))
	h.logWeight = math.Log(weight) + factorial - float64(len(s.marks))*math.Log(s.listened+rareS) +
		math.Log(rareS/(s.listened+rareS)) - math.Log(s.falseS) - s.falseLog
	for i := range s.marks {
		h.wrong.set(i)
	}
	return h
}

// run goes through the marks once for each scatter and each way of passing from
// one pass to the next: they would crowd each other out of one list.
func (s *search) run() {
	for _, scatter := range []struct{ scale, weight float64 }{{0.7, 0.3}, {1.1, 0.4}, {2, 0.3}} {
		for _, anew := range []bool{false, true} {
			if anew && s.passes < 2 {
				continue // nothing tells the two apart
			}
			hs := s.roots(anew)
			for i := range hs {
				hs[i].logWeight += math.Log(scatter.weight)
				hs[i].scale, hs[i].anew = scatter.scale, anew
			}
			s.all = append(s.all, s.through(hs)...)
		}
	}
}

// roots are what is thought possible before the first mark. The weights are
// guesses that a published value is seldom wrong (no source).
func (s *search) roots(anew bool) []hypothesis {
	period := s.prior.Schedule.Period.Seconds()
	if period == 0 {
		return []hypothesis{{}}
	}
	root := func(weight, times, sigma float64) hypothesis {
		sigma *= period * times
		return hypothesis{logWeight: math.Log(weight), period: period * times, varPeriod: sigma * sigma}
	}
	stated := root(0.93, 1, s.prior.PeriodSigma)
	hs := []hypothesis{stated, root(0.05, 1, max(0.03, s.prior.PeriodSigma)),
		root(0.01, 0.5, s.prior.PeriodSigma), root(0.01, 2, s.prior.PeriodSigma)}
	if first := s.prior.Schedule.First; !first.IsZero() && !anew {
		for i := range hs {
			hs[i].logWeight += math.Log(0.05)
		}
		stated.logWeight += math.Log(0.95)
		sigma := s.prior.Schedule.Tolerance.Seconds()
		stated.at, stated.varAt, stated.phased, stated.published = sinceS(s.ref, first), sigma*sigma, true, true
		hs = append(hs, stated)
	}
	return hs
}

// through takes hypotheses through all marks.
func (s *search) through(hs []hypothesis) []hypothesis {
	width := keptKnown
	if s.prior.Schedule.Period == 0 {
		width = keptUnknown
	}
	var next []hypothesis
	passFrom := math.Inf(-1)
	for i, m := range s.marks {
		if m.newPass {
			for j := range hs {
				s.nextPass(&hs[j], passFrom, m.between)
			}
			passFrom = m.between
		}
		next = next[:0]
		for _, h := range hs {
			next = s.branch(next, h, i, passFrom)
		}
		hs, next = s.kept(next, width), hs
	}
	for i := range hs {
		if h := &hs[i]; h.period > 0 {
			s.finish(h, passFrom, math.Inf(1))
		}
	}
	return hs
}

// nextPass forgets what does not last until the next pass.
func (s *search) nextPass(h *hypothesis, passFrom, between float64) {
	switch {
	case h.period == 0:
		h.phased = false // one mark in a pass doesn't tell a period
	case h.anew:
		s.finish(h, passFrom, between)
		h.at, h.varAt, h.covar, h.phased = 0, 0, 0, false
	}
}

// finish counts the bursts missed after the last mark that fits.
func (s *search) finish(h *hypothesis, passFrom, to float64) {
	from := math.Inf(-1)
	if h.anew {
		from = passFrom
	}
	if h.phased && h.fits > 0 {
		from = h.at + h.period/2
	}
	h.miss(s.slots(h, from, to))
}

// kept drops what is too unlikely or too much.
func (s *search) kept(hs []hypothesis, width int) []hypothesis {
	best := math.Inf(-1)
	for i := range hs {
		best = max(best, hs[i].logWeight)
	}
	hs = slices.DeleteFunc(hs, func(h hypothesis) bool { return !(h.logWeight >= best-keptLog) })
	if len(hs) > width {
		slices.SortFunc(hs, func(a, b hypothesis) int { return cmp.Compare(b.logWeight, a.logWeight) })
		hs = hs[:width]
	}
	return hs
}

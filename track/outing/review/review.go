package review

import (
	"math"

	"foreaim/track/outing"
)

// Review is what records tell.
type Review struct {
	Passes  []Pass // by outing, in the order given, and time
	Lasting []Lasting
}

// Of reviews records. The same records and settings give the same review.
func Of(logs []outing.Log, s Settings) Review {
	s = s.filled()
	var r Review
	t := &tables{s, map[tableKey]*table{}}
	for _, log := range logs {
		for _, g := range gather(log) {
			r.Passes = append(r.Passes, judge(g, s, t))
		}
	}
	r.Lasting = lasting(r.Passes)
	return r
}

// leastMarginSigmaDB is how well a margin is known at best: no link budget is better
// (common practice, no source).
const leastMarginSigmaDB = 1.0

// judge reviews one pass.
func judge(p Pass, s Settings, t *tables) Pass {
	p.BeamwidthDeg = s.BeamwidthDeg
	if s.Margin != nil {
		if mean, sigma, known := s.Margin(p); known {
			s.MarginDB, s.MarginSigmaDB = mean, math.Max(leastMarginSigmaDB, sigma)
		}
	}
	if p.HeadingSigmaDeg == 0 {
		p.HeadingSigmaDeg = s.HeadingSigmaDeg
		if p.FacingHow == "" {
			p.HeadingSigmaDeg *= 2 // nobody looked for north
		}
	}
	if w := newWeigher(&p, s, t); w != nil {
		w.judge()
	} else {
		p.Verdict.Bring = bring(&p)
	}
	p.Estimates.period(&p)
	return p
}

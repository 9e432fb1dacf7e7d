package review

import (
	"fmt"
	"math"
	"slices"
)

// Lasting is an error that stays from outing to outing.
type Lasting struct {
	Cause     Cause // North or Elements
	Satellite string
	Outings   int     // in which it was learned
	Mean      float64 // degrees for North, seconds for Elements; of the outings, weighted
	Sigma     float64 // of the mean
	Same      bool    // the outings agree on one error that isn't 0
	Words     string
}

// measured is an error of one outing.
type measured struct {
	outing      string
	mean, sigma float64
}

// lasting finds what the passes of several outings have in common.
func lasting(passes []Pass) []Lasting {
	var headings []measured
	late := map[string][]measured{}
	var satellites []string
	for _, p := range passes {
		e := p.Estimates
		if e.HeadingLearned {
			headings = append(headings, measured{p.Outing, e.HeadingErrorDeg.Mean, e.HeadingErrorDeg.Sigma})
		}
		if e.TimeLearned {
			if !slices.Contains(satellites, p.Satellite) {
				satellites = append(satellites, p.Satellite)
			}
			late[p.Satellite] = append(late[p.Satellite], measured{p.Outing, e.TimeErrorS.Mean, e.TimeErrorS.Sigma})
		}
	}
	var all []Lasting
	if l, ok := combine(headings, 2); ok {
		l.Cause = North
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings your north was %s, give or take %.0f°: that is the compass, or how you use it.", l.Outings, northWords(l.Mean), math.Ceil(l.Sigma))
		} else {
			l.Words = fmt.Sprintf("Over %d outings your north shows no error that stays.", l.Outings)
		}
		all = append(all, l)
	}
	for _, s := range satellites {
		l, ok := combine(late[s], 2)
		if !ok {
			continue
		}
		l.Cause, l.Satellite = Elements, s
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings %s was %s, give or take %.0f s: that is the elements.", l.Outings, s, lateWords(l.Mean), math.Ceil(l.Sigma))
		} else {
			l.Words = fmt.Sprintf("Over %d outings %s shows no time error that stays.", l.Outings, s)
		}
		all = append(all, l)
	}
	return all
}

// combine averages what outings say, each by its certainty. It needs two outings.
func combine(all []measured, floor float64) (l Lasting, ok bool) {
	outings := map[string]bool{}
	sum, weight := 0.0, 0.0
	for _, m := range all {
		outings[m.outing] = true
		w := 1 / (m.sigma*m.sigma + floor*floor)
		sum, weight = sum+w*m.mean, weight+w
	}
	l.Outings = len(outings)
	if l.Outings < 2 {
		return l, false
	}
	l.Mean, l.Sigma = sum/weight, math.Sqrt(1/weight)
	chi := 0.0
	for _, m := range all {
		d := m.mean - l.Mean
		chi += d * d / (m.sigma*m.sigma + floor*floor)
	}
	spread := chi / float64(len(all)-1) // 1 where they agree
	if spread > 1 {
		l.Sigma *= math.Sqrt(spread)
	}
	l.Same = math.Abs(l.Mean) > 2*l.Sigma && spread < 4
	return l, true
}

package main

import (
	"cmp"
	"math"
	"slices"

	"foreaim/track/aim"
	"foreaim/track/elements"
	"foreaim/track/outing"
)

// matched is what is believed of one object, if it is the one.
type matched struct {
	set                     elements.Set
	probability             float64
	lateS, lateSigmaS       float64
	offsetHz, offsetSigmaHz float64 // of the frequency of sender and receiver together
}

// part is one part of what is believed of an object before: a belief over many
// objects has few steps for the time error of each, so that a large one is
// handed to it in parts.
type part struct {
	aim.Object
	of int // the object
}

const (
	// partSigmaS is the standard deviation of a part's time error; a frequency
	// measured to 300 Hz tells about as much in a few seconds around the peak.
	partSigmaS = 40.0
	// maxParts is how many parts are weighed at most: some seconds' work.
	maxParts = 1000
)

// parts takes a normal distribution of the time error apart into narrower ones,
// whose weighted sum it is to better than a thousandth.
func parts(o aim.Object, of int, sigmaS float64) []part {
	if o.TimeSigmaS <= 1.5*sigmaS {
		o.Weight = 1
		return []part{{o, of}}
	}
	spread := math.Sqrt(o.TimeSigmaS*o.TimeSigmaS - sigmaS*sigmaS)
	n := int(math.Ceil(3.5 * spread / sigmaS))
	var all []part
	sum := 0.0
	for k := -n; k <= n; k++ {
		at := float64(k) * sigmaS
		p := part{o, of}
		p.TimeErrorS, p.TimeSigmaS = o.TimeErrorS+at, sigmaS
		p.Weight = math.Exp(-at * at / (2 * spread * spread))
		sum += p.Weight
		all = append(all, p)
	}
	for i := range all {
		all[i].Weight /= sum
	}
	return slices.DeleteFunc(all, func(p part) bool { return math.Abs(p.TimeErrorS) > longestTimeError.Seconds() })
}

// weigh returns the objects, the likeliest first.
func (m matching) weigh(sets []elements.Set, objects []aim.Object) (all []matched, explained bool, err error) {
	var weighed []part
	for sigmaS := partSigmaS; ; sigmaS *= 1.5 {
		weighed = weighed[:0]
		for k, o := range objects {
			weighed = append(weighed, slices.DeleteFunc(parts(o, k, sigmaS), func(p part) bool { return !m.mayBeUp(p.Object) })...)
		}
		if len(weighed) <= maxParts || sigmaS > longestTimeError.Seconds() {
			break
		}
	}
	all = make([]matched, len(sets))
	for k, set := range sets {
		all[k].set = set
	}
	switch {
	case len(weighed) == 0:
		return nil, false, failed("check the marks' times, the site and the group", "none of %d objects was up when something was heard", len(sets))
	case len(weighed) > maxParts:
		return nil, false, wrong("name a launch, as 2026-014", "%d objects were up when something was heard, more than %d", len(weighed), maxParts)
	}
	for _, p := range weighed {
		m.prior.Objects = append(m.prior.Objects, p.Object)
	}
	belief, err := aim.NewBelief(m.prior)
	if err != nil {
		return nil, false, wrong("", "%w", err)
	}
	for _, o := range m.observations() {
		belief.Observe(o)
	}
	for i, b := range belief.Objects() {
		all[weighed[i].of].add(b)
	}
	for k := range all {
		all[k].finish()
	}
	slices.SortStableFunc(all, func(a, b matched) int { return cmp.Compare(b.probability, a.probability) })
	return all, belief.Advise(m.prior.To).Explains, nil
}

// add adds one part: sums of values and of squares, until finish.
func (m *matched) add(b aim.ObjectBelief) {
	p := b.Probability
	m.probability += p
	m.lateS += p * b.TimeErrorS.Mean
	m.lateSigmaS += p * (b.TimeErrorS.Mean*b.TimeErrorS.Mean + b.TimeErrorS.Sigma*b.TimeErrorS.Sigma)
	m.offsetHz += p * b.OffsetHz
	m.offsetSigmaHz += p * (b.OffsetHz*b.OffsetHz + b.OffsetSigmaHz*b.OffsetSigmaHz)
}

// finish makes means and standard deviations of the sums.
func (m *matched) finish() {
	if m.probability == 0 {
		return
	}
	for _, v := range []struct{ mean, sigma *float64 }{{&m.lateS, &m.lateSigmaS}, {&m.offsetHz, &m.offsetSigmaHz}} {
		*v.mean /= m.probability
		*v.sigma = math.Sqrt(math.Max(0, *v.sigma/m.probability-*v.mean**v.mean))
	}
}

// mayBeUp tells whether an object may have been up at a mark of something heard.
func (m matching) mayBeUp(o aim.Object) bool {
	const sigmas, steps, slackDeg = 4, 8, 3
	for _, mark := range m.marks {
		if mark.Kind != outing.Heard {
			continue
		}
		for i := -steps; i <= steps; i++ {
			look, err := o.Orbit.LookLate(m.site, mark.At, o.TimeErrorS+o.TimeSigmaS*sigmas*float64(i)/steps)
			if err == nil && look.ElevationDeg > m.prior.MinElevationDeg-slackDeg {
				return true
			}
		}
	}
	return false
}

package review

import (
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// Estimates is what is known of the errors with everything that was marked, over
// all causes that may have been at work.
type Estimates struct {
	Made bool // the rest but the period holds
	// TimeErrorS is how late the object was, HeadingErrorDeg how far true north
	// of the boom was from the operator's, MarginDB the signal against hearing
	// on the beam's axis at 1000 km.
	TimeErrorS, HeadingErrorDeg, MarginDB aim.Estimate
	// TimeLearned and HeadingLearned tell that the marks say more than was known
	// before.
	TimeLearned, HeadingLearned bool
	// ObjectProbability is that the object that the elements are of was what
	// could be heard.
	ObjectProbability float64
	// OffsetHz is sender and receiver together, + for too high, as the frequencies
	// tell; unknown without any.
	OffsetHz, OffsetSigmaHz outing.Number
	// Period as the marks tell it; 0 where they don't.
	Period       time.Duration
	PeriodSigmaS float64
}

// fewShares is the share of all below which a term is left out of the estimates.
const fewShares = 0.002

// learnedBy is by how much an error must have become smaller to count as learned.
const learnedBy = 0.75

// learned tells whether an error is better known than by its usual standard
// deviation, or known not to be usual.
func learned(e aim.Estimate, usualSigma float64) bool {
	return e.High-e.Low < learnedBy*2*usualSigma ||
		math.Abs(e.Mean) > 2*usualSigma && math.Abs(e.Mean) > 1.5*e.Sigma
}

// estimate works out the errors on a grid that is laid where they are.
func (w *weigher) estimate(terms []term) {
	coarse := w.marginals(w.coarse, terms)
	g := w.grid(w.coarse.late.within(coarse.late, 36), w.coarse.heading.within(coarse.heading, 36))
	fine := w.marginals(g, terms)
	e := &w.pass.Estimates
	e.Made = true
	e.TimeErrorS = g.late.estimate(fine.late)
	e.HeadingErrorDeg = g.heading.estimate(fine.heading)
	e.MarginDB = g.margin.estimate(fine.margin)
	e.TimeLearned = learned(e.TimeErrorS, w.limits.lateSigma)
	e.HeadingLearned = learned(e.HeadingErrorDeg, w.limits.headingSigma)
	for _, t := range terms {
		if !t.absent && t.rival == nil {
			e.ObjectProbability += t.share
		}
	}
	e.offset(w.offsets(g.late), fine.late)
}

// offset averages the frequency offset over the time errors.
func (e *Estimates) offset(o offsets, late []float64) {
	if o.count == 0 {
		return
	}
	total, mean, second := 0.0, 0.0, 0.0
	for i, p := range late {
		total += p
		mean += p * o.meanHz[i]
		second += p * o.meanHz[i] * o.meanHz[i]
	}
	if !(total > 0) {
		return
	}
	mean /= total
	e.OffsetHz = outing.NumberOf(mean)
	e.OffsetSigmaHz = outing.NumberOf(math.Sqrt(max(0, second/total-mean*mean) + o.sigmaHz*o.sigmaHz))
}

// marginals sums the terms on a grid.
func (w *weigher) marginals(g *grid, terms []term) *weights {
	into := g.empty()
	o := w.offsets(g.late)
	for _, t := range terms {
		if t.share < fewShares {
			continue
		}
		l := g.of(t.key)
		laid := w.laid(g, o, sizesAndTuning{t.sizes, t.tuned})
		if z := g.sum(l, laid, nil, 0); z > 0 {
			g.sum(l, laid, into, t.share/z)
		}
	}
	return into
}

// place puts what was found with the bursts and the path.
func (w *weigher) place() {
	p, e := w.pass, w.pass.Estimates
	late, heading, margin := e.TimeErrorS.Mean, e.HeadingErrorDeg.Mean, e.MarginDB.Mean
	each := func(b *Burst) {
		b.Look, b.Found = w.look(b, 0), w.look(b, late)
		if b.Source != Nowhere {
			boom := aim.Direction{AzimuthDeg: b.Held.AzimuthDeg + heading, ElevationDeg: b.Held.ElevationDeg}
			off := track.SeparationDeg(boom.AzimuthDeg, boom.ElevationDeg, b.Found.AzimuthDeg, b.Found.ElevationDeg)
			b.AimErrorDeg = outing.NumberOf(off)
			loss := aim.BeamLossDB(off, w.settings.BeamwidthDeg)
			b.MarginDB = outing.NumberOf(margin - loss - 20*math.Log10(math.Max(1, b.Found.RangeKm)/1000))
		}
		if b.FrequencyHz.Known && p.FrequencyHz > 0 {
			b.OffsetHz = outing.NumberOf(b.FrequencyHz.Value - track.ReceiveHz(p.FrequencyHz, b.Found.RangeRateKmS))
		}
	}
	for i := range p.Bursts {
		each(&p.Bursts[i])
	}
	for i := range p.Strays {
		each(&p.Strays[i])
	}
	const points = 60
	step := p.Set.Time.Sub(p.Rise.Time) / points
	for i := range points + 1 {
		b := Burst{Time: p.Rise.Time.Add(time.Duration(i) * step)}
		p.Path = append(p.Path, Point{w.look(&b, 0), w.look(&b, late)})
	}
}

// period works out the period from when bursts were heard.
func (e *Estimates) period(p *Pass) {
	if len(p.facts.heard) < 2 {
		return
	}
	prior := beacon.Prior{Schedule: p.Schedule, PeriodSigma: 0.005}
	learned, err := beacon.Learn(prior, p.facts.heard, nil)
	if err != nil || learned.Period <= 0 {
		return
	}
	e.Period, e.PeriodSigmaS = learned.Period, learned.PeriodSigmaS
}

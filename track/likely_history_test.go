package track

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"foreaim/track/elements"
)

// meanRates are the secular rates of SGP4's mean anomaly, argument of perigee
// and node without drag, in degrees a day (AIAA 2006-6753, appendix B, written
// from memory; TestHistoryWithoutErrors holds them to the propagator).
func meanRates(set elements.Set) (anomaly, perigee, node float64) {
	const j4 = -0.00000165597
	m := unKozai(set)
	c2 := m.cosI * m.cosI
	c4 := c2 * c2
	p2 := math.Pow(m.a*(1-m.e*m.e), -2)
	beta := math.Sqrt(1 - m.e*m.e)
	t1 := 1.5 * sgp4J2 * p2 * m.n
	t2 := 0.5 * t1 * sgp4J2 * p2
	t3 := -0.46875 * j4 * p2 * p2 * m.n
	const degADay = 180 / math.Pi * 1440
	anomaly = m.n + 0.5*t1*beta*(3*c2-1) + 0.0625*t2*beta*(13-78*c2+137*c4)
	perigee = -0.5*t1*(1-5*c2) + 0.0625*t2*(7-114*c2+395*c4) + t3*(3-36*c2+49*c4)
	node = -t1*m.cosI + (0.5*t2*(4-19*c2)+2*t3*(3-7*c2))*m.cosI
	return anomaly * degADay, perigee * degADay, node * degADay
}

// history is an object whose mean motion wanders at random, and sets that were
// fitted to it with errors. Times are days after the base's epoch; phases are
// seconds of time along the track, positive: ahead of the base.
type history struct {
	base        elements.Set
	wander      float64   // of the rate, s a day, after a day
	phase, rate []float64 // the truth, every step
}

const step = 0.01 // days

func newHistory(rng *rand.Rand, base elements.Set, wander, days float64) *history {
	h := &history{base: base, wander: wander, phase: []float64{0}, rate: []float64{0}}
	for i := range int(days / step) {
		next := h.rate[i] + wander*math.Sqrt(step)*rng.NormFloat64()
		h.phase = append(h.phase, h.phase[i]+step*(h.rate[i]+next)/2)
		h.rate = append(h.rate, next)
	}
	return h
}

// set is one that was fitted some days after the base's epoch, with errors of
// phase and rate.
func (h *history) set(day, phaseError, rateError float64) elements.Set {
	i := int(math.Round(day / step))
	day = float64(i) * step
	anomaly, perigee, node := meanRates(h.base)
	s := h.base
	phase := (h.phase[i] + phaseError) / 86400 * s.MeanMotionRevPerDay * 360
	s.Epoch = s.Epoch.Add(time.Duration(day * 24 * float64(time.Hour)))
	s.AnomalyDeg = Wrap360(s.AnomalyDeg + anomaly*day + phase)
	s.PerigeeDeg = Wrap360(s.PerigeeDeg + perigee*day)
	s.NodeDeg = Wrap360(s.NodeDeg + node*day)
	s.MeanMotionRevPerDay *= 1 + (h.rate[i]+rateError)/86400
	return s
}

// late is how late the object is at a later day on such a set, in seconds.
func (h *history) late(day, phaseError, rateError, after float64) float64 {
	i, j := int(math.Round(day/step)), int(math.Round((day+after)/step))
	predicted := h.phase[i] + phaseError + (h.rate[i]+rateError)*float64(j-i)*step
	return predicted - h.phase[j]
}

func benchSet(t testing.TB) elements.Set {
	set := invented(t)["INVENTED-1"]
	set.BStar, set.RevolutionNumber, set.Designator = 0, 0, ""
	return set
}

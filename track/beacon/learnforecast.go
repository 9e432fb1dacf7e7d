package beacon

import (
	"math"
	"time"
)

// Forecast is when a burst will start.
type Forecast struct {
	Time      time.Time // as likely before as after
	Low, High time.Time // 68 % interval, central
	SigmaS    float64   // half of its length, s
}

// Next returns the first burst that starts at t or later (by its median). The
// interval holds all that is unknown: which marks were false, the period, and
// beyond the pass of the latest mark whether the phase carries over at all. It
// returns false when the phase is not known: when less than half of what is
// thought possible has one by then, or the interval is half a period long or
// longer, little shorter than the 68 % of a period of a guess.
func (l Learned) Next(t time.Time) (Forecast, bool) {
	if !inYears(t) || len(l.stories) == 0 {
		return Forecast{}, false
	}
	return l.forecast(sinceS(l.ref, t))
}

func (l Learned) forecast(from float64) (Forecast, bool) {
	m, ok := l.mixture(from)
	if !ok {
		return Forecast{}, false
	}
	if m.centre+m.quantile(0.5) < from {
		// The best story's burst is due, but most have it that it has passed.
		from = m.centre + m.span/2
		if m, ok = l.mixture(from); !ok {
			return Forecast{}, false
		}
	}
	low, high := m.quantile(0.16), m.quantile(0.84)
	if high-low >= m.span/2 {
		return Forecast{}, false
	}
	at := func(offset float64) time.Time { return laterS(l.ref, m.centre+offset) }
	median := max(m.quantile(0.5), from-m.centre)
	return Forecast{Time: at(median), Low: at(low), High: at(high), SigmaS: (high - low) / 2}, true
}

// mixture is the distribution of a burst's start: normal parts, and a share
// spread evenly over the period.
type mixture struct {
	centre float64 // s after the reference; offsets are from here
	span   float64 // one period, s: offsets go from −span/2 to span/2
	parts  []part
	evenly float64
}

type part struct{ weight, offset, sigma float64 }

// mixture returns what all stories tell of the burst that the most likely has
// next: each by its own burst nearest to that.
func (l Learned) mixture(from float64) (mixture, bool) {
	another := math.Abs(from-l.last) > passGap.Seconds()
	var m mixture
	for _, t := range l.stories {
		weight := t.weight
		if another {
			weight *= t.carries
		}
		if !t.phased || weight == 0 {
			continue
		}
		if m.span == 0 {
			m.span = t.period
			m.centre = t.at + math.Ceil((from-t.at)/t.period)*t.period
		}
		k := math.Round((m.centre - t.at) / t.period)
		variance := t.varAt + k*(2*t.covar+k*t.varPeriod)
		if variance > t.period*t.period/9 {
			continue // as good as evenly spread
		}
		m.parts = append(m.parts, part{weight, t.at + k*t.period - m.centre, math.Sqrt(max(variance, 1e-18))})
	}
	m.evenly = 1
	for _, p := range m.parts {
		m.evenly -= p.weight
	}
	m.evenly = max(m.evenly, 0)
	return m, m.evenly <= 0.5
}

// below is the share under an offset.
func (m mixture) below(offset float64) float64 {
	sum := m.evenly * (offset/m.span + 0.5)
	for _, p := range m.parts {
		switch z := (offset - p.offset) / p.sigma; {
		case z > 6:
			sum += p.weight
		case z > -6:
			sum += p.weight * 0.5 * math.Erfc(-z/math.Sqrt2)
		}
	}
	return sum
}

// quantile returns the offset that a share lies under.
func (m mixture) quantile(share float64) float64 {
	low, high := -m.span/2, m.span/2
	for range 36 { // to a nanosecond of a minute
		middle := (low + high) / 2
		if m.below(middle) < share {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

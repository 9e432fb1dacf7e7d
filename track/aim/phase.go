package aim

import (
	"math"
	"time"
)

// phase is one possibility of when the bursts come: so long after the pass's
// rise, and every period before and after.
type phase struct {
	after  time.Duration // 0 to one period
	weight float64
}

const (
	// reactionS is how long after its start a burst is marked, reactionSigmaS
	// how much that varies (common practice, no source).
	reactionS      = 0.6
	reactionSigmaS = 0.4
	// phaseBins is into how many parts an unknown phase is divided.
	phaseBins = 12
	// earlyS is how much before the burst a mark of it may be: clocks differ.
	earlyS = 2.0
)

// phases returns the possibilities, given when bursts were marked as heard.
func (m *model) phases(heard []time.Time) []phase {
	period := m.prior.Schedule.Period
	if m.prior.Schedule.Known() {
		first := m.prior.Schedule.Next(m.prior.From)
		return []phase{{first.Time.Sub(m.prior.From), 1}}
	}
	centre := m.likeliestPhase(heard)
	const parts = 60 // of a bin
	width := period.Seconds() / phaseBins
	all := make([]phase, phaseBins)
	total := 0.0
	for i := range all {
		middle := centre + float64(i)*width
		mean := 0.0
		for k := range parts {
			off := (float64(k)+0.5)/parts - 0.5
			l := m.phaseLikelihood(middle+off*width, heard)
			all[i].weight += l
			mean += off * l
		}
		all[i].after = m.wrap(middle + mean/all[i].weight*width)
		total += all[i].weight
	}
	for i := range all {
		all[i].weight /= total
	}
	return all
}

// likeliestPhase returns seconds after the rise.
func (m *model) likeliestPhase(heard []time.Time) float64 {
	best, most := 0.0, -1.0
	for _, t := range heard {
		start := t.Sub(m.prior.From).Seconds() - reactionS
		for off := -1.0; off <= 1; off += 0.1 {
			if l := m.phaseLikelihood(start+off, heard); l > most {
				best, most = start+off, l
			}
		}
	}
	return best
}

// phaseLikelihood returns how likely the times of marks are, against the
// likeliest, with bursts at so many seconds after the rise. A mark may be a
// false one, at any time.
func (m *model) phaseLikelihood(afterS float64, heard []time.Time) float64 {
	period := m.prior.Schedule.Period.Seconds()
	const peak = 1 / (reactionSigmaS * 2.5066)
	l := 1.0
	for _, t := range heard {
		x := math.Remainder(t.Sub(m.prior.From).Seconds()-reactionS-afterS, period)
		l *= bell(x, reactionSigmaS) + falseRate/period/peak
	}
	return l
}

// wrap returns seconds as a time within one period.
func (m *model) wrap(s float64) time.Duration {
	period := m.prior.Schedule.Period.Seconds()
	if s = math.Mod(s, period); s < 0 {
		s += period
	}
	return seconds(s)
}

// from returns the first burst at t or later with a phase.
func (m *model) from(t time.Time, p phase) time.Time {
	period := m.prior.Schedule.Period
	first := m.prior.From.Add(p.after)
	n := t.Sub(first) / period
	at := first.Add(n * period)
	if at.Before(t) { // n was rounded down
		at = at.Add(period)
	}
	return at
}

// about returns the burst that something marked at t is about with a phase:
// the one that began last, or is about to begin.
func (m *model) about(t time.Time, p phase) time.Time {
	return m.from(t.Add(seconds(earlyS)-m.prior.Schedule.Period+1), p)
}

// fits tells whether a mark at t can be of a burst. It may be marked late, after
// its end, but a third of a period after that at most.
func (m *model) fits(t, burst time.Time) bool {
	d := t.Sub(burst).Seconds()
	s := &m.prior.Schedule
	return d >= -earlyS && d <= s.Length.Seconds()+max(4, s.Period.Seconds()/3)
}

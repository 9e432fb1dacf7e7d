package review

import (
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// expect lists the bursts that were to be expected from rise to set.
func (p *Pass) expect() {
	if !p.Schedule.Known() {
		return
	}
	to := p.Set.Time
	if far := p.Rise.Time.Add(mostBursts * p.Schedule.Period); far.Before(to) {
		to = far
	}
	bursts, err := p.Schedule.Bursts(p.Rise.Time, to)
	if err != nil {
		return
	}
	for i, b := range bursts {
		p.Bursts = append(p.Bursts, Burst{Number: i + 1, Time: b.Time, Outcome: Unmarked})
	}
}

// near is how far a mark's burst may be from the expected one that it is about:
// the schedule may have been computed anew since.
const near = 3 * time.Second

// mark takes one mark into the table.
func (p *Pass) mark(m outing.Mark) {
	switch m.Kind {
	case outing.NoiseUp, outing.NoiseNormal:
		p.facts.noise = append(p.facts.noise, m)
		return
	case outing.NotListening:
		if !m.Origin.Expected {
			until := m.Until
			if until.IsZero() || until.Before(m.At) {
				until = p.Set.Time
			}
			p.away(m.At, until)
			return
		}
	}
	if !m.Automatic {
		p.facts.keys++
	}
	at := m.Burst()
	b := p.at(at)
	if b == nil {
		switch {
		case m.Kind == outing.Heard && p.Schedule.Known():
			if len(p.Strays) < mostBursts {
				p.Strays = append(p.Strays, Burst{Time: at})
				b = &p.Strays[len(p.Strays)-1]
			}
		case m.Kind != outing.NotListening && !p.Schedule.Known() && len(p.Bursts) < mostBursts:
			p.Bursts = append(p.Bursts, Burst{Number: len(p.Bursts) + 1, Time: at})
			b = &p.Bursts[len(p.Bursts)-1]
		}
	}
	if b == nil || b.Outcome == Heard && m.Kind != outing.Heard {
		return
	}
	switch m.Kind {
	case outing.Heard:
		b.Outcome, b.Strength = Heard, m.Strength
		if m.FrequencyHz > 0 && m.FrequencyHz < 1e11 {
			b.FrequencyHz = outing.NumberOf(m.FrequencyHz)
		}
		if s := m.Origin.UncertaintyS; !m.Origin.LikelyStart.IsZero() && s > 0 && s <= beacon.MaxMarkSigmaS {
			p.facts.heard = append(p.facts.heard, beacon.Mark{Time: m.Origin.LikelyStart, SigmaS: s})
		}
	case outing.Silent:
		b.Outcome = Silent
	case outing.NotListening:
		b.Outcome = NotListening
	}
	if m.Held.Known {
		b.Advised.AzimuthDeg, b.Advised.ElevationDeg, b.AdvisedSet = m.Held.AzimuthDeg, m.Held.ElevationDeg, true
		b.Held, b.Source = b.Advised, ByMark
	}
}

// at returns the burst that began at about a time.
func (p *Pass) at(t time.Time) *Burst {
	i, _ := slices.BinarySearchFunc(p.Bursts, t, func(b Burst, t time.Time) int { return b.Time.Compare(t) })
	var best *Burst
	for _, k := range []int{i - 1, i} {
		if k < 0 || k >= len(p.Bursts) {
			continue
		}
		b := &p.Bursts[k]
		far := near
		if period := p.Schedule.Period; period > 0 {
			far = min(far, period/3)
		}
		if d := b.Time.Sub(t).Abs(); d <= far && (best == nil || d < best.Time.Sub(t).Abs()) {
			best = b
		}
	}
	return best
}

// away notes a time when nobody listened.
func (p *Pass) away(from, to time.Time) {
	for i := range p.Bursts {
		if b := &p.Bursts[i]; !b.Time.Before(from) && b.Time.Before(to) && b.Outcome != Heard {
			b.Outcome = NotListening
		}
	}
}

// noise makes spans of the marks, and notes them with the bursts.
func (p *Pass) noise(end time.Time) {
	var up time.Time
	for _, m := range p.facts.noise {
		switch {
		case m.Kind == outing.NoiseUp && up.IsZero():
			up = m.At
		case m.Kind == outing.NoiseNormal && !up.IsZero():
			p.Noise, up = append(p.Noise, Span{up, m.At}), time.Time{}
		}
	}
	if !up.IsZero() {
		p.Noise = append(p.Noise, Span{up, end})
	}
	for i := range p.Bursts {
		b := &p.Bursts[i]
		for _, s := range p.Noise {
			b.NoiseUp = b.NoiseUp || !b.Time.Before(s.From) && b.Time.Before(s.To)
		}
	}
}

// Count returns how many bursts there are with an outcome.
func (p *Pass) Count(o Outcome) int {
	n := 0
	for _, b := range p.Bursts {
		if b.Outcome == o {
			n++
		}
	}
	return n
}

// known tells whether look angles were computed.
func known(l track.Look) bool { return !l.Time.IsZero() && l.RangeKm > 0 }

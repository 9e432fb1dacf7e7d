package outing

import (
	"math"
	"time"
)

// span is a time, from a moment on and up to but without another; a zero end is
// open.
type span struct{ from, to time.Time }

// touches tells whether a span has a moment in common with from..to.
func (s span) touches(from, to time.Time) bool {
	return !s.from.After(to) && (s.to.IsZero() || s.to.After(from))
}

// maxGap is the longest time between two Ticks that counts as watching: the
// program ticks several times a second unless the computer slept.
const maxGap = 3 * time.Second

// Tick concludes what can be concluded from silence: a burst whose latest
// believable mark time has passed was silent, or, when listening was off during
// it or the program wasn't there to take a mark (no Tick for over three
// seconds), not listened to. Bursts that had begun before the first Tick are
// left alone, as are hidden ones. The marks are the same however often it is called.
func (m *Marks) Tick(now time.Time) []Mark {
	switch gap := now.Sub(m.watched); {
	case m.watched.IsZero():
		m.since = now
	case gap <= 0: // also a clock that was set back: all up to watched is decided
		return nil
	case gap > maxGap:
		m.away = append(m.away, span{m.watched, now})
	}
	m.watched = now
	var made []Mark
	for m.decided < len(m.bursts) {
		b := m.bursts[m.decided]
		latest := m.ear.Latest(b)
		if !latest.Before(now) {
			break
		}
		m.decided++
		from := opens(b)
		if b.Hidden || from.Before(m.since) || m.settled(b.Number) {
			continue
		}
		made = append(made, m.add(Mark{
			At:        stamp(latest),
			Kind:      m.silence(from, latest),
			Held:      b.Held,
			Origin:    Origin{Expected: true, Number: b.Number, Start: b.Start},
			Automatic: true,
		}))
	}
	return made
}

// opens returns when one must begin to listen so as not to miss a burst.
func opens(b Burst) time.Time { return b.Start.Add(-believable * b.Tolerance) }

// silence says what silence from..to is.
func (m *Marks) silence(from, to time.Time) MarkKind {
	for _, s := range m.away {
		if s.touches(from, to) {
			return NotListening
		}
	}
	for _, k := range m.marks {
		if k.stands() && k.Kind == NotListening && !k.Automatic && (span{k.At, k.Until}).touches(from, to) {
			return NotListening
		}
	}
	return Silent
}

// settled tells whether a burst needs no mark of the program: it has one, or
// the operator has taken back the program's.
func (m *Marks) settled(number int) bool {
	for _, k := range m.marks {
		if k.Origin.Expected && k.Origin.Number == number && (k.stands() || k.Automatic && k.Fate == Undone) {
			return true
		}
	}
	return false
}

// StopListening says that nobody listens from now on. Pressed before the mark
// of a burst could still have come, it counts for that burst too.
func (m *Marks) StopListening(at time.Time, held Held) []Mark {
	if !m.Listening() {
		return nil
	}
	return []Mark{m.add(Mark{At: stamp(at), Kind: NotListening, Held: held})}
}

// Listen says that somebody listens again. A mark of what was heard says so too.
func (m *Marks) Listen(at time.Time) []Mark { return m.endAway(stamp(at)) }

func (m *Marks) endAway(at time.Time) []Mark {
	k := m.open()
	if k == nil {
		return nil
	}
	k.Until = at
	if !at.After(k.At) {
		k.Until = k.At.Add(time.Millisecond) // it did last, however the clock ran
	}
	return []Mark{*k}
}

// Listening tells whether silence is taken as silence. It is, until
// StopListening.
func (m *Marks) Listening() bool { return m.open() == nil }

// open returns the mark that ended listening, nil while somebody listens.
func (m *Marks) open() *Mark {
	for i := len(m.marks) - 1; i >= 0; i-- {
		if k := &m.marks[i]; k.stands() && k.Kind == NotListening && !k.Automatic && k.Until.IsZero() {
			return k
		}
	}
	return nil
}

// Noise says that the noise floor is up, or normal again. What is known already
// makes no mark.
func (m *Marks) Noise(at time.Time, up bool, held Held) []Mark {
	if up == m.NoiseIsUp() {
		return nil
	}
	kind := NoiseNormal
	if up {
		kind = NoiseUp
	}
	return []Mark{m.add(Mark{At: stamp(at), Kind: kind, Held: held})}
}

// NoiseIsUp tells what was said last about the noise floor; it is normal until
// somebody says otherwise.
func (m *Marks) NoiseIsUp() bool {
	for i := len(m.marks) - 1; i >= 0; i-- {
		if k := m.marks[i]; k.stands() && (k.Kind == NoiseUp || k.Kind == NoiseNormal) {
			return k.Kind == NoiseUp
		}
	}
	return false
}

// Steps of a frequency: two or three presses get anywhere within a receiver's
// usual error, and a blob on a waterfall isn't read more finely.
const (
	CoarseStepHz = 500
	FineStepHz   = 100
)

// Heard returns the last mark of what was heard.
func (m *Marks) Heard() (Mark, bool) {
	if k := m.lastHeard(); k != nil {
		return *k, true
	}
	return Mark{}, false
}

func (m *Marks) lastHeard() *Mark {
	for i := len(m.marks) - 1; i >= 0; i-- {
		if k := &m.marks[i]; k.stands() && k.Kind == Heard {
			return k
		}
	}
	return nil
}

// StepFrequency moves the frequency of the last mark of what was heard by a
// step in Hz, from the expected frequency if it has none yet; a step of 0 takes
// the expected one. Without such a mark, or where it would leave no frequency
// above 0, nothing changes.
func (m *Marks) StepFrequency(stepHz, expectedHz float64) []Mark {
	k := m.lastHeard()
	if k == nil {
		return nil
	}
	hz := k.FrequencyHz
	if hz == 0 {
		hz = expectedHz
	}
	hz += stepHz
	if !(hz > 0) || math.IsInf(hz, 0) || hz == k.FrequencyHz {
		return nil
	}
	k.FrequencyHz = hz
	return []Mark{*k}
}

// Away tells whether listening was off at any time from..to, or the program
// wasn't there to take a mark.
func (m *Marks) Away(from, to time.Time) bool { return m.silence(from, to) == NotListening }

package outing

import (
	"fmt"
	"math"
	"time"
)

// Ear says how long after a burst its mark comes. A key is pressed at
//
//	start + length + reaction + (0 to WaterfallLeast…WaterfallMost)
//
// where the reaction is normally distributed, and what a waterfall adds is
// anything from WaterfallLeast to WaterfallMost with equal chance.
type Ear struct {
	Reaction time.Duration // mean, from the end of the burst to the key
	Scatter  time.Duration // its standard deviation
	// What a waterfall's picture adds: its lines, averaging and screen. Both 0
	// when one listens by ear.
	WaterfallLeast, WaterfallMost time.Duration
}

// DefaultEar is somebody who listens by ear. A simple reaction to light or
// sound takes 0.2 to 0.3 s (textbook value, from memory); to decide that this
// was it and to find the key takes 0.5 to 1 s in all (common practice, no
// source).
func DefaultEar() Ear {
	return Ear{Reaction: 800 * time.Millisecond, Scatter: 300 * time.Millisecond}
}

// DefaultEye is somebody who watches a waterfall, which shows a burst half a
// second to two seconds late (common practice, no source).
func DefaultEye() Ear {
	e := DefaultEar()
	e.WaterfallLeast, e.WaterfallMost = 500*time.Millisecond, 2*time.Second
	return e
}

const (
	// quickest is the shortest reaction that can be believed: a simple
	// reaction to sound (textbook value, from memory).
	quickest = 200 * time.Millisecond
	// believable is how many standard deviations a mark may be off its
	// expected time: 3 leave out 1 in 370 (normal distribution).
	believable = 3
	// maxDelay is the longest reaction or waterfall delay that makes sense.
	maxDelay = time.Minute
)

// Validate returns an error that names the first field out of range.
func (e Ear) Validate() error {
	for _, v := range []struct {
		name  string
		value time.Duration
	}{
		{"reaction", e.Reaction}, {"scatter of the reaction", e.Scatter},
		{"least waterfall delay", e.WaterfallLeast}, {"most waterfall delay", e.WaterfallMost},
	} {
		if v.value < 0 || v.value > maxDelay {
			return fmt.Errorf("%s %s is not within 0s to %s", v.name, v.value, maxDelay)
		}
	}
	if e.WaterfallMost < e.WaterfallLeast {
		return fmt.Errorf("most waterfall delay %s is less than the least, %s", e.WaterfallMost, e.WaterfallLeast)
	}
	return nil
}

// Delay returns the mean time from the end of a burst to its mark.
func (e Ear) Delay() time.Duration { return e.Reaction + (e.WaterfallLeast+e.WaterfallMost)/2 }

// SigmaS returns the standard deviation of Delay in seconds. That of a value
// with equal chance over a width w is w/√12 (any textbook).
func (e Ear) SigmaS() float64 {
	return math.Hypot(e.Scatter.Seconds(), (e.WaterfallMost-e.WaterfallLeast).Seconds()/math.Sqrt(12))
}

// Burst is one expected transmission.
type Burst struct {
	Number    int
	Start     time.Time
	Length    time.Duration // 0 when unknown
	Tolerance time.Duration // of its start, one standard deviation
	Held      Held          // the hold for it and the direction advised
	Hidden    bool          // behind the skyline: may be heard, but silence says nothing
}

// unknownLength is taken for a burst whose length nobody knows.
const unknownLength = time.Second

func (b Burst) length() time.Duration {
	if b.Length > 0 {
		return b.Length
	}
	return unknownLength
}

// markTime returns when the mark of a burst is expected, and its standard
// deviation in seconds, that of the start included.
func (e Ear) markTime(b Burst) (time.Time, float64) {
	return b.Start.Add(b.length() + e.Delay()), math.Hypot(e.SigmaS(), b.Tolerance.Seconds())
}

// Earliest returns the earliest time at which a mark can be of this burst: one
// may press while a long burst still sounds.
func (e Ear) Earliest(b Burst) time.Time {
	return b.Start.Add(quickest + e.WaterfallLeast - believable*b.Tolerance)
}

// Latest returns the latest time at which a mark of this burst is believed;
// silence until then is silence.
func (e Ear) Latest(b Burst) time.Time {
	t, sigma := e.markTime(b)
	return t.Add(seconds(believable * sigma))
}

// miss returns how many standard deviations a mark's time is off the expected.
func (e Ear) miss(b Burst, at time.Time) float64 {
	t, sigma := e.markTime(b)
	return math.Abs(at.Sub(t).Seconds()) / math.Max(sigma, 0.001)
}

// Start returns when the burst began whose mark was made at a time, and the
// standard deviation in seconds, given its length. A mark that comes so early
// in the burst it belongs to that its end can't have been waited for is taken
// as made anywhere in it.
func (e Ear) Start(at time.Time, b Burst, expected bool) (time.Time, float64) {
	length := b.length()
	sigma := e.SigmaS()
	if b.Length == 0 { // anything from nothing to twice the assumed
		sigma = math.Hypot(sigma, 2*length.Seconds()/math.Sqrt(12))
	}
	if t, all := e.markTime(b); expected && at.Before(t.Add(-seconds(believable*all))) {
		return at.Add(-e.Delay() - length/2), math.Hypot(sigma, length.Seconds()/math.Sqrt(12))
	}
	return at.Add(-e.Delay() - length), sigma
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * float64(time.Second))) }

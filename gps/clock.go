package gps

import (
	"math"
	"slices"
	"time"
)

// How the clock's error is found. A sentence names a moment and arrives some
// time after it, so UTC minus arrival is the computer's error minus that delay.
// The varying part of the delay only ever makes it later: the best sentences of
// the last minute, not their mean, are right. The part common to all, from the
// receiver's computing and the order of its sentences, can't be seen in the
// data. It is taken to lie anywhere within a range (type delay), whose middle is
// added; half of the range stays as a bound that more sentences don't shrink.
const (
	windowAge    = 60 * time.Second
	windowSize   = 64
	bucketAge    = 500 * time.Millisecond // of readings so close the best is kept
	enough       = 3                      // readings before an offset is given
	agreeS       = 1.0                    // readings of one clock agree within this
	earlyS       = 1.0                    // earlier than the best by this: another clock
	lateS        = 2.0                    // later than the best by this: another clock
	laterRun     = 6                      // so many in a row later than all before: changed
	laterAfter   = 8                      // judged against at least so many
	laterS       = 0.05
	driftPerS    = 100e-6 // of a computer's crystal at worst; common practice, no source
	pulseAge     = 60 * time.Second
	surelyAStepS = 1.5 // a computer isn't suspended for less
)

// delay is what is assumed of the delay that can't be seen, in seconds: it lies
// within halfS of centreS.
type delay struct{ centreS, halfS float64 }

// lineDelay is the delay of sentences. Receivers begin to send 0.05 to 0.6 s
// after the moment (common practice, no source), taken as 0 to 0.7 s; a network
// may add 0.2 s. Whether the bytes of a read came one by one or all at once
// can't be seen either.
func lineDelay(baud int) delay {
	if baud <= 0 {
		return delay{0.45, 0.45}
	}
	return delay{0.35, 0.35 + wireTime(promptBytes, baud).Seconds()}
}

// after widens a delay for other sentences that came just before without a
// pause: they may be of the same moment, so that it began with them.
func (d delay) after(lead time.Duration) delay {
	half := lead.Seconds() / 2
	return delay{d.centreS + half, d.halfS + half}
}

// cycleDelay is the delay of fixes from a daemon, which waits for the last
// sentence of a moment.
func cycleDelay() delay { return delay{0.5, 0.5} }

// reading is one measurement of the clock, delay and all.
type reading struct {
	offsetS float64
	at      time.Time
	delay   delay
}

// estimator finds the error of the computer's clock.
type estimator struct {
	window []reading // oldest first
	odd    []reading // that don't fit the window: a clock that was set, or noise
	found  Clock     // from sentences
	pulse  Clock     // from a pulse-per-second
	last   time.Time // the newest time seen, to notice that the clock was set
	jumpS  float64   // a change of the wall clock not yet explained
}

// tick tells the computer's clock. Where it also carries the monotonic clock,
// the difference shows at once that somebody has set the time.
func (e *estimator) tick(now time.Time) {
	if !e.last.IsZero() {
		e.step((now.Round(0).Sub(e.last.Round(0)) - now.Sub(e.last)).Seconds())
	}
	e.last = now
}

// step takes by how much the wall clock has gained on the monotonic clock. A
// large step is explained by the next reading.
func (e *estimator) step(s float64) {
	if math.Abs(s) < surelyAStepS {
		e.shift(s)
		return
	}
	e.jumpS += s
}

// shift follows a computer whose clock was set forward by stepS.
func (e *estimator) shift(stepS float64) {
	for _, list := range [][]reading{e.window, e.odd} {
		for i := range list {
			list[i].offsetS -= stepS
		}
	}
	e.found.OffsetS -= stepS
	e.pulse.OffsetS -= stepS
}

// explain decides, with a new reading, whether a large change of the wall clock
// was a setting of it, or a suspension during which the monotonic clock stood.
func (e *estimator) explain(offsetS float64) {
	if e.jumpS != 0 && len(e.window) > 0 {
		best := best(e.window).offsetS
		if math.Abs(offsetS-(best-e.jumpS)) < math.Abs(offsetS-best) {
			e.shift(e.jumpS)
		}
	}
	e.jumpS = 0
}

// add takes the moment that a sentence names and its arrival. It returns by how
// much the clock's error has changed, in seconds, when it has changed at once;
// else 0.
func (e *estimator) add(utc, arrived time.Time, d delay) (stepS float64) {
	offsetS := utc.Sub(arrived.Round(0)).Seconds()
	e.explain(offsetS)
	old := func(r reading) bool { return arrived.Sub(r.at).Abs() > windowAge }
	e.window = slices.DeleteFunc(e.window, old)
	e.odd = slices.DeleteFunc(e.odd, old)

	before, now := e.found, reading{offsetS, arrived, d}
	if len(e.window) > 0 && !near(offsetS, best(e.window).offsetS) {
		if !e.doubt(now) {
			return 0
		}
	} else {
		e.odd = e.odd[:0]
		e.window = keepBest(e.window, now)
		e.dropIfLater()
	}
	e.estimate(arrived)
	if change := e.found.OffsetS - before.OffsetS; before.Known && math.Abs(change) > agreeS {
		return change
	}
	return 0
}

// near tells whether a reading can be of the clock whose best is known.
func near(offsetS, best float64) bool {
	return offsetS <= best+earlyS && offsetS >= best-lateS
}

// doubt takes a reading that doesn't fit and tells whether enough of them agree
// to take the window's place.
func (e *estimator) doubt(r reading) bool {
	e.odd = keepBest(e.odd, r)
	e.odd = e.odd[max(0, len(e.odd)-enough):]
	if len(e.odd) < enough || spread(e.odd) > agreeS {
		return false
	}
	e.window, e.odd = append(e.window[:0], e.odd...), e.odd[:0]
	return true
}

// dropIfLater forgets the window when its newest readings are all later than
// every one before: by chance that happens once in thousands, after a small
// step of the clock or a longer delay always.
func (e *estimator) dropIfLater() {
	split := len(e.window) - laterRun
	if split < laterAfter {
		return
	}
	lowest := math.Inf(1)
	for _, r := range e.window[:split] {
		lowest = min(lowest, r.offsetS)
	}
	for _, r := range e.window[split:] {
		if r.offsetS > lowest-laterS {
			return
		}
	}
	e.window = slices.Delete(e.window, 0, split)
}

// estimate works the window out, when it holds enough.
func (e *estimator) estimate(at time.Time) {
	n := len(e.window)
	if n < enough {
		return
	}
	top, median := best(e.window), inOrder(e.window)[n/2]
	// How much of the varying delay even the best has: for delays spread evenly
	// the second of n is below nine times the mean gap with 99.9 % probability.
	luck := min(9*2*(top.offsetS-median.offsetS)/float64(n), 0.5)
	e.found = Clock{
		Known:        true,
		OffsetS:      top.offsetS + top.delay.centreS,
		UncertaintyS: top.delay.halfS + max(luck, 0) + driftPerS*windowAge.Seconds(),
		At:           at.Round(0),
	}
}

// fits tells whether a pulse can be of the same clock as the sentences.
func (e *estimator) fits(pulse Clock) bool {
	return !e.found.Known || math.Abs(pulse.OffsetS-e.found.OffsetS) <= e.found.UncertaintyS+0.5
}

// now gives the best that is known: a recent pulse that the sentences don't
// contradict, else what the sentences say.
func (e *estimator) now() Clock {
	p := e.pulse
	if !p.Known || e.last.Sub(p.At).Abs() > pulseAge || !e.fits(p) {
		return e.found
	}
	p.UncertaintyS = p.UncertaintyAt(e.last)
	if e.found.Known && e.found.UncertaintyS < p.UncertaintyS {
		return e.found
	}
	return p
}

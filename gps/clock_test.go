package gps

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// world is a simulated receiver and computer. Its numbers are invented; the
// truth is known.
type world struct {
	decoder   *decoder
	random    *rand.Rand
	truth     time.Time // UTC
	offsetS   float64   // GPS time minus the computer's
	drift     float64   // of the computer, s/s: positive when it runs slow
	constantS float64   // delay of every sentence
	varyingS  float64   // and at random up to this more
	baud      int
	receiverS float64 // what the receiver's time is wrong by
}

func newWorld(offsetS float64, seed uint64) *world {
	return &world{
		decoder: newDecoder(Options{}), random: rand.New(rand.NewPCG(seed, 1)),
		truth: noon, offsetS: offsetS, constantS: 0.35, varyingS: 0.3, baud: 9600,
	}
}

// second lets one second pass and gives what is then known.
func (w *world) second() Report {
	w.truth = w.truth.Add(time.Second)
	w.offsetS += w.drift
	delayS := w.constantS
	says := w.truth.Add(seconds(w.receiverS))
	for _, body := range []string{rmc(says, 0), gga(says, 0)} {
		delayed := delayS + w.varyingS*w.random.Float64()
		w.decoder.line([]byte(summed(body)), w.truth.Add(seconds(delayed-w.offsetS)), w.baud)
		delayS += 0.08
	}
	return w.decoder.report()
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// holds fails unless the clock's uncertainty contains the truth and is no wider
// than most.
func (w *world) holds(t *testing.T, name string, c Clock, most float64) {
	t.Helper()
	if errorS := c.OffsetS - w.offsetS; !c.Known || math.Abs(errorS) > c.UncertaintyS || c.UncertaintyS > most {
		t.Errorf("%s, %v: offset %.3f ± %.3f s known %v, truth %.3f", name, w.truth.Format(time.TimeOnly), c.OffsetS, c.UncertaintyS, c.Known, w.offsetS)
	}
}

// The computer 90 s off either way, every sentence late by 0.35 s and up to
// 0.3 s more: the uncertainty contains the truth at every moment after the
// first seconds, and so do the corrected times.
func TestClockContainsTheTruth(t *testing.T) {
	for seed := range uint64(50) {
		for _, offsetS := range []float64{90, -90, 0, 4e6} {
			w := newWorld(offsetS, seed)
			for i := range 200 {
				c := w.second().Clock
				if i < 3 {
					continue
				}
				w.holds(t, "constant and random delay", c, 1.2)
				computer := w.truth.Add(-seconds(w.offsetS))
				if wrong := c.Correct(computer).Sub(w.truth); math.Abs(wrong.Seconds()) > c.UncertaintyS {
					t.Errorf("corrected time is %v off, stated %.3f s", wrong, c.UncertaintyS)
				}
			}
		}
	}
}

// Receivers from the fastest to the slowest that the model covers, over serial
// lines and networks, with a computer that runs wrong by 50 ppm.
func TestClockWithOtherDelays(t *testing.T) {
	for _, baud := range []int{0, 4800, 9600, 115200} {
		for _, constantS := range []float64{0.02, 0.1, 0.5, 0.65} {
			for _, varyingS := range []float64{0, 0.05, 0.6} {
				w := newWorld(-90, 7)
				w.baud, w.constantS, w.varyingS, w.drift = baud, constantS, varyingS, 50e-6
				for i := range 180 {
					if c := w.second().Clock; i >= 12 {
						w.holds(t, "other delays", c, 1.1)
					}
				}
			}
		}
	}
}

// A receiver that sends 0.4 s of other sentences before the first with a time,
// on a slow line: nothing tells that they belong to it, but they may.
func TestClockWithSentencesBeforeTheTime(t *testing.T) {
	w := newWorld(90, 8)
	w.baud, w.constantS, w.varyingS = 4800, 1.0, 0.1
	const others = 3
	for i := range 60 {
		at := w.truth.Add(time.Second + seconds(0.6-w.offsetS))
		for k := range others {
			body := "GPGSV,3,1,11,03,03,111,00,04,15,270,00,06,01,010,00,13,06,292,00"
			w.decoder.line([]byte(summed(body)), at.Add(time.Duration(k)*wireTime(len(body)+6, w.baud)), w.baud)
		}
		if c := w.second().Clock; i > 5 {
			w.holds(t, "others before", c, 1.1)
		}
	}
	w = newWorld(90, 8) // the same after the time: nothing to doubt
	for i := range 60 {
		if c := w.second().Clock; i > 20 {
			w.holds(t, "others after", c, 0.8)
		}
		w.decoder.line([]byte(summed("GPGSV,1,1,00")), w.truth.Add(seconds(0.8-w.offsetS)), w.baud)
	}
}

func TestClockNeedsSeveralThatAgree(t *testing.T) {
	w := newWorld(90, 3)
	for i := range 2 {
		if c := w.second().Clock; c.Known {
			t.Errorf("known after %d seconds: %+v", i+1, c)
		}
	}
	// What a port had kept for a minute arrives at once, and then the present.
	d := newDecoder(Options{})
	for i := range 60 {
		at := noon.Add(time.Duration(i-60) * time.Second)
		tell(d, noon, gga(at, 0), rmc(at, 0))
	}
	if c := d.report().Clock; c.Known {
		t.Errorf("known from old sentences: %+v", c)
	}
	w.decoder, w.truth, w.offsetS = d, noon, 0
	for i := range 20 {
		if c := w.second().Clock; i > 6 {
			w.holds(t, "after old sentences", c, 0.9)
		}
	}
}

// Times without a monotonic reading, as here, leave it to the sentences to show
// that the clock was set.
func TestClockIsSet(t *testing.T) {
	for _, stepS := range []float64{90, -90, 3, -3, 0.8, -0.8, 3600, -3600, 86400} {
		w := newWorld(90, 11)
		for range 70 {
			w.second()
		}
		w.offsetS += stepS
		said := false
		for i := range 70 {
			r := w.second()
			said = said || strings.Contains(r.Problem, "the clock's error changed by")
			if i >= 7 {
				w.holds(t, "clock set", r.Clock, 1.2)
			}
		}
		if said != (math.Abs(stepS) > 1) {
			t.Errorf("step of %v s spoken of: %v", stepS, said)
		}
	}
}

// With a monotonic reading the change is known at once. Wall and monotonic
// clock are told apart here by hand.
func TestClockFollowsTheMonotonicClock(t *testing.T) {
	for _, stepS := range []float64{-0.7, 90, -90} {
		var e estimator
		for i := range 10 {
			e.add(noon.Add(seconds(float64(i))), noon.Add(seconds(float64(i)+0.35-20)), lineDelay(9600))
		}
		before := e.found.OffsetS
		e.step(stepS)
		// The computer was set: its next reading is off by the step.
		e.add(noon.Add(11*time.Second), noon.Add(seconds(11+0.35-20+stepS)), lineDelay(9600))
		if got := e.found.OffsetS - before; math.Abs(got+stepS) > 1e-6 {
			t.Errorf("set by %v s: offset changed by %v", stepS, got)
		}
		before = e.found.OffsetS
		e.step(3600)
		// It was suspended, and its clock is right as before.
		e.add(noon.Add(3611*time.Second), noon.Add(seconds(3611+0.35-20+stepS)), lineDelay(9600))
		if got := e.found.OffsetS - before; math.Abs(got) > 1e-6 {
			t.Errorf("suspended: offset changed by %v", got)
		}
	}
}

// tick with real readings, which hold both clocks, sees no step where none is.
func TestClockTickOnRealTime(t *testing.T) {
	var e estimator
	now := time.Now()
	e.add(noon, now, lineDelay(0))
	e.tick(now)
	e.tick(now.Add(time.Second))
	if e.window[0].offsetS != noon.Sub(now).Seconds() || e.jumpS != 0 {
		t.Errorf("a step was seen: %+v", e)
	}
}

// Single wrong times and garbage don't move the clock.
func TestClockAmongNoise(t *testing.T) {
	w := newWorld(-90, 5)
	for i := range 120 {
		if w.receiverS = 0; i%5 == 4 {
			w.receiverS = 40 * (w.random.Float64() - 0.5)
		}
		w.decoder.line([]byte{0xff, byte(i), '$', 0x80, 'G'}, w.truth.Add(-seconds(w.offsetS)), w.baud)
		if c := w.second().Clock; i > 12 {
			w.holds(t, "noise", c, 1.2)
		}
	}
}

// Wrong times in a row that don't agree with each other don't either.
func TestClockAmongNoiseInARow(t *testing.T) {
	w := newWorld(-90, 5)
	for i := range 60 {
		if w.receiverS = 0; i > 20 && i < 30 {
			w.receiverS = float64(1+i%4) * 5
		}
		if c := w.second().Clock; i > 12 {
			w.holds(t, "noise in a row", c, 1.2)
		}
	}
}

// A time isn't taken while there is no fix or the week number has rolled over.
func TestClockNeedsABelievedTime(t *testing.T) {
	w := newWorld(90, 1)
	w.receiverS = -rollOver.Seconds()
	for range 10 {
		if r := w.second(); r.Clock.Known || !strings.Contains(r.Problem, "1024-week") || !r.Fix.Valid() {
			t.Errorf("%+v", r)
		}
	}
	d := newDecoder(Options{})
	for i := range 10 {
		at := noon.Add(time.Duration(i) * time.Second)
		r := tell(d, at, "GPRMC,"+at.Format("150405")+",V,,,,,,,221126,,,N", "GPZDA,"+at.Format("150405")+",22,11,2026,,")
		if r.Clock.Known || !r.Fix.Time.IsZero() {
			t.Errorf("time without a fix: %+v", r)
		}
	}
}

// A cold start: the receiver's leap seconds are three behind until it has heard
// the new ones. The uncertainty says so, and the step is named.
func TestLeapSecondsAfterAColdStart(t *testing.T) {
	w := newWorld(90, 9)
	for range 40 {
		w.truth = w.truth.Add(time.Second)
		tell(w.decoder, w.truth.Add(-seconds(w.offsetS)), "GPGGA,,,,,,0,00,99.99,,,,,,")
	}
	w.receiverS = 3
	for i := range 120 {
		if r := w.second(); i > 3 {
			w.holds(t, "leap seconds missing", r.Clock, 4.5)
			if !strings.Contains(r.Problem, "may not know the leap seconds before 12:13 UTC") {
				t.Errorf("problem %q", r.Problem)
			}
		}
	}
	w.receiverS = 0
	for i := range 120 {
		r := w.second()
		if i > 3 {
			w.holds(t, "leap seconds learnt", r.Clock, 1.2)
		}
		if i == 10 && !strings.Contains(r.Problem, "changed by -3") || i == 80 && r.Problem != "" {
			t.Errorf("%d s after: problem %q", i, r.Problem)
		}
	}
	// A daemon that was told the leap seconds needs no such doubt.
	for _, known := range []bool{false, true} {
		w = newWorld(90, 9)
		tell(w.decoder, w.truth.Add(-2*time.Minute), "GPGGA,,,,,,0,00,99.99,,,,,,")
		for range 10 {
			w.truth = w.truth.Add(time.Second)
			w.decoder.fix(Fix{Time: w.truth, Received: w.truth.Add(seconds(0.4 - 90)), LatitudeDeg: 57.25, LongitudeDeg: -5.5, Quality: "gps"}, known)
		}
		if c := w.decoder.report().Clock; (c.UncertaintyS < leapS) != known {
			t.Errorf("leap seconds known %v: %+v", known, c)
		}
	}
	// A computer whose own time agrees needs no such doubt.
	w = newWorld(0.1, 9)
	tell(w.decoder, w.truth.Add(-time.Minute), "GPGGA,,,,,,0,00,99.99,,,,,,")
	for i := range 30 {
		if r := w.second(); i > 3 {
			w.holds(t, "agrees", r.Clock, 0.9)
		}
	}
}

func TestPulseWins(t *testing.T) {
	w := newWorld(90, 2)
	for range 30 {
		w.second()
	}
	computer := w.truth.Add(-seconds(w.offsetS))
	w.decoder.pulse(90.0002, 0.001, computer)
	w.holds(t, "pulse", w.decoder.report().Clock, 0.0021)
	// One that begins another second is not believed.
	w.decoder.pulse(92.0002, 0.001, computer)
	w.holds(t, "wrong second", w.decoder.report().Clock, 0.0021)
	if p := w.decoder.report().Problem; !strings.Contains(p, "the pulse is +2") {
		t.Errorf("problem %q", p)
	}
	for _, offsetS := range []float64{math.NaN(), math.Inf(1)} {
		w.decoder.pulse(offsetS, 0.001, computer)
		w.holds(t, "no number", w.decoder.report().Clock, 0.0021)
	}
	// It is forgotten when no more come; until then its uncertainty grows.
	for i := range 90 {
		if c := w.second().Clock; i == 30 {
			w.holds(t, "half a minute later", c, 0.006)
		}
	}
	if c := w.decoder.report().Clock; c.UncertaintyS < 0.3 {
		t.Errorf("an old pulse is still used: %+v", c)
	}
}

// A pulse that came before the sentences, of another second, is dropped.
func TestPulseOfAnotherSecond(t *testing.T) {
	w := newWorld(90, 2)
	w.decoder.pulse(92, 0.001, w.truth.Add(-seconds(w.offsetS)))
	for i := range 10 {
		if c := w.second().Clock; i > 4 {
			w.holds(t, "sentences against pulse", c, 1.2)
		}
	}
}

func TestUncertaintyGrows(t *testing.T) {
	c := Clock{Known: true, UncertaintyS: 0.4, At: noon}
	for _, after := range []time.Duration{time.Hour, -time.Hour} {
		if got := c.UncertaintyAt(noon.Add(after)); math.Abs(got-0.76) > 1e-9 { // 3600 s at 100 ppm
			t.Errorf("%v: %v", after, got)
		}
	}
}

// A daemon hands over fixes late, and sometimes tells when the sentence came.
func TestClockFromADaemon(t *testing.T) {
	for _, arrivals := range []bool{false, true} {
		w := newWorld(-90, 4)
		for i := range 60 {
			w.truth = w.truth.Add(time.Second)
			computer := func(delayS float64) time.Time { return w.truth.Add(seconds(delayS - w.offsetS)) }
			if arrivals {
				w.decoder.arrival(w.truth, computer(0.1+0.1*w.random.Float64()))
			}
			w.decoder.fix(Fix{Time: w.truth, Received: computer(0.5 + 0.3*w.random.Float64()), LatitudeDeg: 57.25, LongitudeDeg: -5.5, Quality: "gps"}, true)
			if i > 6 {
				w.holds(t, "daemon", w.decoder.report().Clock, 0.8)
			}
		}
	}
}

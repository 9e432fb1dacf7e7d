package tui

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// ticking is the usual pass of a beacon whose burst times nobody published.
func ticking(d *diskRecorder, published beacon.Schedule) story {
	s := recorded(d)
	s.at, s.schedule = -275*time.Second, published
	return s
}

// truth is what the screen isn't told: when bursts really begin, after start.
type truth struct{ first, period time.Duration }

// hear presses the key after a burst as an ear does, late by the mean reaction
// and a part of its scatter.
func (u truth) hear(p *player, number int, lateS float64) {
	p.t.Helper()
	ear := outing.DefaultEar()
	p.until(u.first + time.Duration(number)*u.period + 2*time.Second + ear.Reaction + time.Duration(lateS*1e9))
	p.press(" ")
}

var spreadOnScreen = regexp.MustCompile(`BURST IN s ±([0-9.]+)`)

// claim returns what the screen says how far its countdown may be off, in seconds.
func claim(p *player) float64 {
	p.t.Helper()
	found := spreadOnScreen.FindStringSubmatch(p.text())
	if found == nil {
		p.t.Fatalf("no uncertainty of the countdown at %v:\n%s", p.now(), p.text())
	}
	s, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		p.t.Fatal(err)
	}
	return s
}

// next returns the time of the burst that was advised last.
func next(t *testing.T, d *diskRecorder) time.Time {
	t.Helper()
	all := entries[outing.AdviceEntry](t, d)
	return all[len(all)-1].Time.Time
}

// Four marks, one of them false, and a burst that was missed: the countdown is
// within twice the uncertainty that stands beside it, and the rest follows it.
func TestTimesAreLearned(t *testing.T) {
	for _, u := range []truth{
		{-266 * time.Second, 30 * time.Second},
		{-251 * time.Second, 30 * time.Second},
		{-259*time.Second - 400*time.Millisecond, 30*time.Second + 40*time.Millisecond},
		{-248 * time.Second, 30*time.Second - 30*time.Millisecond},
	} {
		d := newDisk()
		play(t, ticking(d, beacon.Schedule{Period: 30 * time.Second, Length: 2 * time.Second}), 80, 24, func(p *player) {
			p.want("Burst times unknown")
			u.hear(p, 0, 0.2)
			u.hear(p, 1, -0.3)
			p.wait(8 * time.Second)
			p.press(" ") // false
			u.hear(p, 3, 0.1)
			p.wait(time.Second)
			if p.miss("Burst times unknown"); p.t.Failed() {
				return
			}
			sigma := claim(p)
			for number := 4; number < 8; number++ {
				burst := start.Add(u.first + time.Duration(number)*u.period)
				p.wait(burst.Add(-4 * time.Second).Sub(p.now()))
				if s := claim(p); s < sigma-0.11 || s > 2 {
					t.Errorf("%+v: burst %d is said to be known within %v s after %v s", u, number, s, sigma)
				}
				off := next(t, d).Sub(burst).Seconds()
				t.Logf("%+v: burst %d off by %.2f s, said %.1f s", u, number, off, claim(p))
				if math.Abs(off) > 2*claim(p) {
					t.Errorf("%+v: burst %d is expected %.2f s late, said to be within %.1f s:\n%s", u, number, off, claim(p), p.text())
				}
			}
			p.want("ursts every ")
			all := entries[outing.AdviceEntry](t, d)
			if words := string(all[len(all)-1].Words); !strings.Contains(words, "bursts every") || !strings.Contains(words, "one of four marks doesn't fit") {
				t.Errorf("recorded: %q", words)
			}
		})
	}
}

// When bursts come is not carried over to the next pass.
func TestTimesAreLearnedAnew(t *testing.T) {
	u := truth{-251 * time.Second, 30 * time.Second}
	d := newDisk()
	play(t, ticking(d, beacon.Schedule{Period: 30 * time.Second, Length: 2 * time.Second}), 80, 24, func(p *player) {
		for number := range 4 {
			u.hear(p, number, 0.1)
		}
		p.wait(time.Second)
		p.want("BURST IN s ±")
		p.press("p", "\x1b[B", "\r") // the next pass
		p.want("NEXT PASS", "Burst times unknown")
		p.press("p", "\x1b[A", "\r") // back, and all marks still count
		p.wait(time.Second)
		p.want("BURST IN s ±")
	})
}

// A published schedule that tells seconds isn't moved by any mark; one that is
// good to more than one is moved by a mark that doesn't fit by less than a reaction
// is uncertain.
func TestPublishedTimesStandAMark(t *testing.T) {
	for _, c := range []struct {
		tolerance time.Duration
		mostS     float64
	}{{300 * time.Millisecond, 0}, {1200 * time.Millisecond, outing.DefaultEar().SigmaS()}} {
		for _, lateS := range []float64{0.25, 7, 9, 13} {
			d := newDisk()
			published := everyHalfMinute
			published.Tolerance = c.tolerance
			u := truth{-263 * time.Second, 30 * time.Second}
			play(t, ticking(d, published), 80, few, func(p *player) {
				u.hear(p, 0, lateS)
				p.wait(2 * time.Second)
				moved := next(t, d).Sub(start.Add(-233 * time.Second)).Seconds()
				t.Logf("tolerance %v: a mark %v s late moves by %.3f s", c.tolerance, lateS, moved)
				if lateS < 1 && c.mostS > 0 && moved < 0.05 {
					t.Errorf("tolerance %v: a mark that fits teaches nothing", c.tolerance)
				}
				if math.Abs(moved) > c.mostS {
					t.Errorf("tolerance %v: a mark %v s late moves the next burst by %.3f s", c.tolerance, lateS, moved)
				}
			})
		}
	}
}

// Bursts are numbered on, whatever is learned: their marks know them by that.
func TestNumbersGoOn(t *testing.T) {
	before := beacon.Schedule{Period: 30 * time.Second, First: start.Add(-20 * time.Hour)}
	marks := outing.NewMarks(outing.DefaultEar(), 0)
	s := numbered(beacon.Schedule{Period: 30*time.Second + 20*time.Millisecond, First: start.Add(400 * time.Millisecond)}, before, marks)
	// 20 h are 2400 bursts.
	if b := s.Next(start); b.Number != 2400 || !b.Time.Equal(start.Add(400*time.Millisecond)) {
		t.Errorf("%+v, want number 2400", b)
	}
	if b := s.Next(start.Add(time.Second)); b.Number != 2401 {
		t.Errorf("%+v, want number 2401", b)
	}
}

// While burst times are learned, so are both errors: what the screen claims of
// them is true within its 95 %, and bursts are heard.
func TestTimesAndErrorsAreLearned(t *testing.T) {
	for _, e := range []erring{
		{lateS: 60, headingDeg: -20, sigmaS: 60, marginDB: 5},
		{lateS: -40, headingDeg: 12, sigmaS: 40, marginDB: 8},
	} {
		d := newDisk()
		s := e.story(d)
		s.at, s.schedule = -275*time.Second, beacon.Schedule{Period: 30 * time.Second, Length: 2 * time.Second}
		play(t, s, 80, few, func(p *player) {
			heard := 0
			for burst := -251 * time.Second; burst < 220*time.Second; burst += 30 * time.Second {
				p.until(burst)
				holds := entries[outing.HoldEntry](t, d)
				if len(holds) == 0 || !e.hears(start.Add(burst), holds[len(holds)-1]) {
					continue
				}
				heard++
				p.until(burst + 2*time.Second + outing.DefaultEar().Reaction)
				p.press(" ")
			}
			p.wait(5 * time.Second)
			all := entries[outing.AdviceEntry](t, d)
			last := all[len(all)-1]
			t.Logf("%+v: %d heard, %v ± %v s, %v° ± %v°", e, heard, last.TimeErrorS.Value, last.TimeErrorSigmaS.Value, last.HeadingErrorDeg.Value, last.HeadingErrorSigmaDeg.Value)
			if heard < 8 {
				t.Errorf("%+v: %d of 16 bursts heard", e, heard)
			}
			if off := last.TimeErrorS.Value - e.lateS; math.Abs(off) > 2*last.TimeErrorSigmaS.Value || last.TimeErrorSigmaS.Value > e.sigmaS {
				t.Errorf("%+v: said to be %v s ± %v s late", e, last.TimeErrorS.Value, last.TimeErrorSigmaS.Value)
			}
			if off := last.HeadingErrorDeg.Value - e.headingDeg; math.Abs(off) > 2*last.HeadingErrorSigmaDeg.Value {
				t.Errorf("%+v: north said to be off by %v° ± %v°", e, last.HeadingErrorDeg.Value, last.HeadingErrorSigmaDeg.Value)
			}
		})
	}
}

package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// erring is the usual pass of a satellite that is late, seen by somebody whose
// north is wrong, neither of which the screen is told.
type erring struct {
	lateS, headingDeg float64
	sigmaS            float64 // of the time error, as the elements have it
	marginDB          float64 // at 1000 km, in the middle of a beam of 50°
	twist             bool    // may matter
}

func (e erring) story(d *diskRecorder) story {
	s := recorded(d)
	s.at = -270 * time.Second
	s.likely, s.twist = func(time.Time) track.Likely { return track.Likely{SigmaS: e.sigmaS} }, e.twist
	return s
}

// hears tells whether a burst is heard with the antenna held as the operator
// believes it.
func (e erring) hears(burst time.Time, held outing.HoldEntry) bool {
	look, _ := usual.Look(meadow, burst.Add(-time.Duration(e.lateS*float64(time.Second))))
	off := track.SeparationDeg(look.AzimuthDeg, look.ElevationDeg, held.AzimuthDeg.Value+e.headingDeg, held.ElevationDeg.Value)
	lossDB := min(20, 12*(off/50)*(off/50)) // of a beam, to its side lobes (common practice, no source)
	return look.ElevationDeg > 5 && e.marginDB-20*math.Log10(look.RangeKm/1000)-lossDB > 0
}

// entries returns the records of one kind.
func entries[E outing.Entry](t *testing.T, d *diskRecorder) (all []E) {
	for _, r := range d.log(t).Records {
		if e, ok := r.Entry.(E); ok {
			all = append(all, e)
		}
	}
	return all
}

// operate goes through bursts as an operator does who points where the screen
// says and marks what is heard, and returns how many were.
func (e erring) operate(p *player, d *diskRecorder, from, to time.Duration) (heard int) {
	for burst := from; burst <= to; burst += 30 * time.Second {
		p.until(burst + 2*time.Second)
		holds := entries[outing.HoldEntry](p.t, d)
		if len(holds) == 0 {
			p.t.Fatalf("no hold is reached:\n%s", p.text())
		}
		held := holds[len(holds)-1]
		if !held.Time.Time.Equal(start.Add(burst)) {
			p.t.Fatalf("the hold at %v is for the burst at %v", start.Add(burst), held.Time)
		}
		p.wait(800 * time.Millisecond)
		if e.hears(start.Add(burst), held) {
			heard++
			p.press(" ")
		}
	}
	return heard
}

// The claims of the screen about both errors are true within their 95 %, whatever
// the errors are; where they are large, the aims hear more than the predicted ones
// would. (The simulated antenna shares nothing with the belief.)
func TestLearnsWhereItReallyIs(t *testing.T) {
	for _, e := range []erring{
		{lateS: 40, headingDeg: -14, sigmaS: 30, marginDB: 6},
		{lateS: 90, headingDeg: -20, sigmaS: 80, marginDB: 4},
		{lateS: -130, headingDeg: 20, sigmaS: 100, marginDB: 4},
		{lateS: 150, headingDeg: 15, sigmaS: 100, marginDB: 6},
		{lateS: 0, headingDeg: 0, sigmaS: 5, marginDB: 6},
	} {
		d := newDisk()
		play(t, e.story(d), 80, few, func(p *player) {
			e.operate(p, d, -263*time.Second, 187*time.Second)
			p.wait(3 * time.Second)
			all := entries[outing.AdviceEntry](t, d)
			last := all[len(all)-1]
			late, heading := last.TimeErrorS.Value-e.lateS, last.HeadingErrorDeg.Value-e.headingDeg
			if sigma := last.TimeErrorSigmaS.Value; math.Abs(late) > 2*sigma || sigma > e.sigmaS+0.1 {
				t.Errorf("%+v: said to be %v s ± %v s late", e, last.TimeErrorS.Value, sigma)
			}
			if sigma := last.HeadingErrorSigmaDeg.Value; math.Abs(heading) > 2*sigma || sigma > 1.5*wordDeg {
				t.Errorf("%+v: north said to be off by %v° ± %v°", e, last.HeadingErrorDeg.Value, sigma)
			}
			learned, led := 0, 0
			for _, h := range entries[outing.HoldEntry](t, d) {
				if e.hears(h.Time.Time, h) {
					learned++
				}
				look, _ := usual.Look(meadow, h.Time.Time)
				h.AzimuthDeg, h.ElevationDeg = number(look.AzimuthDeg), number(look.ElevationDeg)
				if e.hears(h.Time.Time, h) {
					led++
				}
			}
			if learned < led || math.Abs(e.lateS) > 60 && learned < led+2 {
				t.Errorf("%+v: %d heard, %d by leading", e, learned, led)
			}
		})
	}
}

// The key stops and starts it, and the record tells; what was marked meanwhile
// counts all the same.
func TestLearningIsSwitched(t *testing.T) {
	e := erring{lateS: 40, headingDeg: -14, sigmaS: 30, marginDB: 6}
	d := newDisk()
	play(t, e.story(d), 80, 24, func(p *player) {
		e.operate(p, d, -263*time.Second, -143*time.Second)
		p.wait(4 * time.Second)
		p.want("to hear the next")
		p.press("a")
		p.want("Aims are the predicted ones", "not learning")
		p.miss("to hear the next")
		p.until(-112 * time.Second)
		holds := entries[outing.HoldEntry](t, d)
		look, _ := usual.Look(meadow, start.Add(-113*time.Second))
		if h := holds[len(holds)-1]; math.Abs(h.AzimuthDeg.Value-look.AzimuthDeg) > 0.01 {
			t.Errorf("held at %v°, predicted at %v°", h.AzimuthDeg.Value, look.AzimuthDeg)
		}
		if w := d.state(t).Warnings; !slices.Contains(w, unlearnt) {
			t.Errorf("warnings %q", w)
		}
		p.press("a")
		p.wait(time.Second)
		p.want("to hear the next")
		if w := d.state(t).Warnings; slices.Contains(w, unlearnt) {
			t.Errorf("warnings %q", w)
		}
	})
}

// Undone marks are forgotten, and an outing that is taken up believes what its
// marks say.
func TestBeliefFollowsTheMarks(t *testing.T) {
	e := erring{lateS: 40, headingDeg: -14, sigmaS: 30, marginDB: 6}
	d := newDisk()
	said := func() string {
		all := entries[outing.AdviceEntry](t, d)
		last := all[len(all)-1]
		return fmt.Sprintf("%v s, %v°", last.TimeErrorS.Value, last.HeadingErrorDeg.Value)
	}
	before := ""
	play(t, e.story(d), 80, few, func(p *player) {
		e.operate(p, d, -263*time.Second, -113*time.Second)
		p.wait(4 * time.Second)
		before = said()
		p.press("n", "u")
		p.wait(time.Second)
		if now := said(); now != before {
			t.Errorf("believed %s before a mark that was taken back, %s after", before, now)
		}
		p.press("u")
		p.wait(time.Second)
		if now := said(); now == before {
			t.Errorf("still believes %s without its last mark", now)
		}
		p.until(-90 * time.Second)
		before = said()
	})
	s := e.story(d)
	state := d.state(t)
	change := s.change
	s.at, s.change = -88*time.Second, func(c *Config) { change(c); c.Resume, c.Chosen = &state, -1 }
	play(t, s, 80, few, func(p *player) {
		p.wait(2 * time.Second)
		if now := said(); now != before {
			t.Errorf("believed %s, and taken up again %s", before, now)
		}
	})
}

// What is learned in one pass is what the next one begins with; the heading not
// when the facing was set anew, nor the time of another satellite.
func TestLearnedCarriesOver(t *testing.T) {
	e := erring{lateS: 40, headingDeg: -14, sigmaS: 30, marginDB: 6}
	d := newDisk()
	s := e.story(d)
	var learned outing.AdviceEntry
	var before outing.State
	play(t, s, 80, few, func(p *player) {
		e.operate(p, d, -263*time.Second, 247*time.Second)
		p.until(282 * time.Second)
		all := entries[outing.AdviceEntry](t, d)
		last := all[len(all)-1]
		p.until(290 * time.Second)
		p.want("From before: satellite", "late", "your north", "of true")
		all = entries[outing.AdviceEntry](t, d)
		next := all[len(all)-1]
		if math.Abs(next.TimeErrorS.Value-last.TimeErrorS.Value) > 3 || next.TimeErrorSigmaS.Value < last.TimeErrorSigmaS.Value || next.TimeErrorSigmaS.Value > 30 {
			t.Errorf("after %v ± %v s begins with %v ± %v s", last.TimeErrorS, last.TimeErrorSigmaS, next.TimeErrorS, next.TimeErrorSigmaS)
		}
		if math.Abs(next.HeadingErrorDeg.Value-last.HeadingErrorDeg.Value) > 2 {
			t.Errorf("after %v° begins with %v°", last.HeadingErrorDeg, next.HeadingErrorDeg)
		}
		before = d.state(t)
		learned = next
		p.press("f", "1", "3", "6", "\r")
		p.wait(time.Second)
		all = entries[outing.AdviceEntry](t, d)
		if anew := all[len(all)-1]; math.Abs(anew.HeadingErrorDeg.Value) > 2 || math.Abs(anew.TimeErrorS.Value-next.TimeErrorS.Value) > 1 {
			t.Errorf("with a new facing north is off by %v°, the time by %v s", anew.HeadingErrorDeg, anew.TimeErrorS)
		}
	})
	change := s.change
	s.at, s.change = 20*time.Minute, func(c *Config) { change(c); c.Resume, c.Chosen = &before, -1 }
	play(t, s, 80, few, func(p *player) {
		p.wait(2 * time.Second)
		all := entries[outing.AdviceEntry](t, d)
		if again := all[len(all)-1]; math.Abs(again.TimeErrorS.Value-learned.TimeErrorS.Value) > 1 || math.Abs(again.HeadingErrorDeg.Value-learned.HeadingErrorDeg.Value) > 1 {
			t.Errorf("believed %v s and %v°, and taken up again %v s and %v°", learned.TimeErrorS, learned.HeadingErrorDeg, again.TimeErrorS, again.HeadingErrorDeg)
		}
	})
}

// Where nothing is heard that should have been, the boom is to be twisted: on the
// screen until the burst comes, and aloud once each time.
func TestTwist(t *testing.T) {
	voice := new(listener)
	s := spoken(erring{sigmaS: 3, twist: true}.story(newDisk()), voice)
	play(t, s, 120, 40, func(p *player) {
		times, was := 0, false
		for p.now().Before(start.Add(100 * time.Second)) {
			p.wait(2 * time.Second)
			is := strings.Contains(p.text(), "Twist the boom a quarter turn")
			if is && !was {
				times++
			}
			was = is
		}
		said := 0
		for _, call := range voice.all {
			if call.text == twistWords {
				said++
			}
		}
		if times == 0 || said != times {
			t.Errorf("asked for %d times on the screen, %d times aloud: %+v", times, said, voice.all)
		}
	})
}

// Where burst times are unknown, holds in which nothing was heard teach where the
// satellite isn't, or that it can't be heard; nobody listening teaches nothing.
func TestSilentHoldsTeach(t *testing.T) {
	for _, listening := range []bool{true, false} {
		d := newDisk()
		s := erring{sigmaS: 60}.story(d)
		s.schedule = beacon.Schedule{Period: 20 * time.Second}
		play(t, s, 80, few, func(p *player) {
			if !listening {
				p.press("l")
			}
			p.until(-100 * time.Second)
			all := slices.DeleteFunc(entries[outing.AdviceEntry](t, d), func(e outing.AdviceEntry) bool { return !e.AudibleProbability.Known })
			first, last := all[0].AudibleProbability.Value, all[len(all)-1].AudibleProbability.Value
			if learned := last < first-0.01; learned != listening || len(all) < 3 {
				t.Errorf("listening %v: audible with %v at first, then %v", listening, first, last)
			}
		})
	}
}

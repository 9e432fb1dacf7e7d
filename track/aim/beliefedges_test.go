package aim

import (
	"math"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// standing is an object that stays in the south at 40°.
type standing struct{}

func (standing) LookLate(_ track.Site, t time.Time, _ float64) (track.Look, error) {
	return track.Look{Time: t, AzimuthDeg: 180, ElevationDeg: 40, RangeKm: 1000}, nil
}

// Hundreds of silent bursts leave no doubt that nothing can be heard; yet there
// are bursts to come, and it is said where to listen for them.
func TestLongSilenceStillAdvises(t *testing.T) {
	p := prior()
	p.Objects = []Object{{Orbit: standing{}, TimeSigmaS: 5}}
	p.HeadingSigmaDeg, p.HandDeg, p.FadingDB, p.MarginDB = 5, 0, 0, 30
	p.To = p.From.Add(4 * time.Hour)
	p.Schedule = beacon.Schedule{Period: 30 * time.Second, First: p.From}
	b := belief(t, p)
	for n := range 400 {
		b.Observe(Observation{Time: p.From.Add(time.Duration(n)*30*time.Second + 2*time.Second), Kind: Silent, Held: &Direction{180, 40}})
	}
	at := p.From.Add(400 * 30 * time.Second)
	a := b.Advise(at.Add(-10 * time.Second))
	check(t, a)
	if !a.Next.Equal(at) || a.Aim.ElevationDeg < 30 || a.Aim.ElevationDeg > 50 {
		t.Errorf("after long silence the next burst is at %v, aim %+v; want %v, 180° and 40°", a.Next, a.Aim, at)
	}
	if a.AudibleProbability > 0.01 {
		t.Errorf("after long silence audible with %v", a.AudibleProbability)
	}
}

// What is heard long before and after the pass isn't this object; silence there
// is as it should be. Neither says anything about the errors.
func TestMarksOutsideThePass(t *testing.T) {
	for _, known := range []bool{true, false} {
		for _, kind := range []Kind{Silent, Heard} {
			p := prior()
			if !known {
				p.Schedule.First = time.Time{}
			}
			b := belief(t, p)
			before := b.estimates()
			for n := range 3 {
				for _, hours := range []int{-2, 2} {
					at := p.Schedule.First
					if !known {
						at = peakTime
					}
					b.Observe(Observation{Time: at.Add(time.Duration(hours)*time.Hour + time.Duration(30*n+1)*time.Second), Kind: kind, Held: &Direction{90, 20}})
				}
			}
			a := b.estimates()
			check(t, a)
			if a.Explains != (kind == Silent) {
				t.Errorf("phase known %v, %s outside the pass: explains is %v", known, kind, a.Explains)
			}
			if off := math.Abs(a.TimeErrorS.Mean - before.TimeErrorS.Mean); known && off > 1e-6 {
				t.Errorf("%s outside the pass moves the time error from %+v to %+v", kind, before.TimeErrorS, a.TimeErrorS)
			}
		}
	}
}

// A mark of another age is outside the pass too, however long the way there is.
func TestMarksOfAnotherAge(t *testing.T) {
	for _, known := range []bool{true, false} {
		for _, year := range []int{1, 1600, 2400, 9999} {
			p := prior()
			if !known {
				p.Schedule.First = time.Time{}
			}
			b := belief(t, p)
			b.Observe(Observation{Time: time.Date(year, 6, 1, 12, 0, 0, 0, time.UTC), Kind: Heard})
			if a := b.estimates(); a.ObjectProbability[0] < 0.999 || b.grid.evidence.stray != 1 {
				t.Errorf("phase known %v, heard in the year %d: object %v, strays %d", known, year, a.ObjectProbability, b.grid.evidence.stray)
			}
			if a := b.Advise(time.Date(year, 6, 1, 12, 0, 0, 0, time.UTC)); !a.Next.IsZero() {
				t.Errorf("phase known %v, asked in the year %d: next at %v", known, year, a.Next)
			}
		}
	}
}

// Where two aims were advised for one burst, as when the noise has come up in
// between, the later one is what was held.
func TestHeldIsWhatWasAdvisedLast(t *testing.T) {
	p := prior()
	b := belief(t, p)
	burst := p.Schedule.First.Add(5 * p.Schedule.Period)
	b.advise(burst.Add(-20*time.Second), Advice{Next: burst, Aim: Direction{10, 20}})
	b.advise(burst.Add(-10*time.Second), Advice{Next: burst, Aim: Direction{50, 60}})
	b.advise(burst.Add(3*time.Second), Advice{Next: burst.Add(p.Schedule.Period), Aim: Direction{70, 70}})
	if d := b.held(Observation{Time: burst.Add(4 * time.Second), Kind: Silent}); d != (Direction{50, 60}) {
		t.Errorf("held %v, want 50° and 60°", d)
	}
}

// Each strength alone is unlikely; that a burst is called by one of them is not
// surprising.
func TestStrengthsAreNoSurprise(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg = 10, 10
	b := belief(t, p)
	for n := range 19 {
		at := peakTime.Add(time.Duration(30*n-270) * time.Second)
		b.Advise(at.Add(-10 * time.Second))
		b.Observe(Observation{Time: at.Add(time.Second), Kind: Heard, Strength: []Strength{Weak, Good}[n%2]})
		if a := b.Advise(at.Add(2 * time.Second)); !a.Explains {
			t.Fatalf("after %d bursts, all heard, weak and good in turn: %s", n+1, a.Words())
		}
	}
}

// A north that is nearly opposite may turn out to be off the other way round.
func TestHeadingErrorGoesRoundTheCircle(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS, p.HeadingErrorDeg, p.HeadingSigmaDeg = 5, 170, 20
	b := belief(t, p)
	for n := range 8 {
		at := peakTime.Add(time.Duration(30*n-120) * time.Second)
		look, _ := p.Objects[0].Orbit.LookLate(track.Site{}, at, 0)
		held := Direction{track.Wrap360(look.AzimuthDeg - 200), look.ElevationDeg}
		b.Observe(Observation{Time: at.Add(time.Second), Kind: Heard, Held: &held, Strength: Strong})
	}
	a := b.estimates()
	check(t, a)
	if e := a.HeadingErrorDeg; e.Mean > -150 || e.Low > e.Mean || e.High < e.Mean {
		t.Errorf("heading error %+v, want about -160°", e)
	}
}

// A burst of twelve seconds is marked when it is over.
func TestLongBurstsAreMarkedAfterTheirEnd(t *testing.T) {
	p := prior()
	p.Schedule.Length = 12 * time.Second
	b := belief(t, p)
	for n := range 8 {
		at := peakTime.Add(time.Duration(30*n-120) * time.Second)
		b.Advise(at.Add(-10 * time.Second))
		b.Observe(Observation{Time: at.Add(13 * time.Second), Kind: Heard})
	}
	if b.grid.evidence.stray > 0 {
		t.Errorf("%d of 8 marks are taken for somebody else's: %s", b.grid.evidence.stray, b.estimates().Words())
	}
}

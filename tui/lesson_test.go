package tui

import (
	"testing"
	"time"

	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// A burst that was expected four seconds too early is told to the belief as it is
// known now, not as the one before it, whether it was heard or missed.
func TestMarksFollowTheBurstsThatAreLearned(t *testing.T) {
	rise := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	marks := outing.NewMarks(outing.DefaultEar(), time.Second)
	var bursts []outing.Burst
	for n := range 3 {
		bursts = append(bursts, outing.Burst{
			Number: n, Start: rise.Add(time.Duration(30*n+10) * time.Second), Length: time.Second, Tolerance: 3 * time.Second,
			Held: outing.Held{Hold: n + 1, Known: true, AzimuthDeg: 40, ElevationDeg: 20},
		})
	}
	marks.Expect(rise, bursts)
	for at := rise; at.Before(rise.Add(time.Minute)); at = at.Add(time.Second) {
		marks.Tick(at)
		if at.Equal(rise.Add(46 * time.Second)) {
			marks.Hear(at, outing.Held{})
		}
	}
	u := subject{rise: rise, set: rise.Add(10 * time.Minute), schedule: beacon.Schedule{Period: 30 * time.Second, First: rise.Add(14 * time.Second)}}
	got := (&learning{}).observations(u, nil, marks)
	if len(got) != 2 || got[0].Kind != aim.Silent || got[1].Kind != aim.Heard {
		t.Fatalf("told %+v, want one silent and one heard", got)
	}
	for n, o := range got {
		if want := rise.Add(time.Duration(30*n+14) * time.Second).Add(keyAfter); !o.Time.Equal(want) {
			t.Errorf("burst %d told at %s, want %s", n+1, o.Time, want)
		}
	}
}

// Without burst times silence reaches back to what was told before: not over the
// time between two holds, nor before somebody listened again.
func TestSilenceReachesBackToItsHold(t *testing.T) {
	rise := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	at := func(s int) time.Time { return rise.Add(time.Duration(s) * time.Second) }
	l := learning{passed: []aim.Hold{
		{Number: 1, Ready: at(10), At: at(30), Until: at(50)},
		{Number: 4, Ready: at(200), At: at(220), Until: at(240)},
	}}
	marks := outing.NewMarks(outing.DefaultEar(), time.Second)
	marks.StopListening(at(251), outing.Held{})
	marks.Listen(at(300))
	u := subject{rise: rise, set: at(600), schedule: beacon.Schedule{Period: 30 * time.Second}}
	told := map[time.Time]aim.Kind{}
	for _, o := range l.observations(u, nil, marks) {
		told[o.Time] = o.Kind
	}
	for s, want := range map[int]aim.Kind{10: aim.NotListening, 50: aim.Silent, 200: aim.NotListening, 240: aim.Silent, 300: aim.NotListening} {
		if told[at(s)] != want {
			t.Errorf("at %d s told %q, want %q", s, told[at(s)], want)
		}
	}
}

// A twist that was made before the program was killed isn't asked for again.
func TestTwistIsNotAskedForTwice(t *testing.T) {
	for _, again := range []bool{false, true} {
		c := Config{}
		if again {
			c.Resume = &outing.State{}
		}
		l := newLearning(c, nil)
		l.take(learnedMsg{advice: []aim.Advice{{QuarterTurns: 1}}}, time.Time{}, aim.Plan{})
		if made := l.turns == 1; made != again {
			t.Errorf("taken up %v: %d quarter turns made, believed is 1", again, l.turns)
		}
	}
}

package aim

import (
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// Bursts at 7, 37, 67, 97, 127 and 157 s; trees hide the satellite from 30 to
// 70 s and for a moment of the burst at 127 s.
func TestHiddenHolds(t *testing.T) {
	o := mover{0.5}
	pass := passOf(o, 3*time.Minute)
	at := func(seconds float64) time.Time { return rise.Add(time.Duration(seconds * float64(time.Second))) }
	pass.Hidden = []track.Interval{{From: at(30), To: at(70)}, {From: at(128), To: at(140)}}
	s := Settings{Schedule: beacon.Schedule{Period: 30 * time.Second, First: at(7), Length: 2 * time.Second}, BeamwidthDeg: 40}
	plan, err := PlanPass(o, track.Site{}, pass, rise, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{false, true, true, false, false, false} {
		if h := plan.Holds[i]; h.Hidden != want || h.Number != i+1 {
			t.Errorf("hold %d at %s is hidden: %v, want %v", h.Number, h.At.Sub(rise), h.Hidden, want)
		}
	}
	for _, c := range []struct {
		at         float64
		last, next int
	}{{0, 0, 1}, {20, 1, 4}, {38, 1, 4}, {68, 1, 4}, {96, 1, 4}, {100, 4, 5}, {130, 5, 6}, {170, 6, 0}} {
		m := plan.At(at(c.at))
		number := func(h *Hold) int {
			if h == nil {
				return 0
			}
			return h.Number
		}
		if number(m.Last) != c.last || number(m.Next) != c.next {
			t.Errorf("at %v s: from hold %d to %d, want %d to %d", c.at, number(m.Last), number(m.Next), c.last, c.next)
		}
		for _, h := range m.Following {
			if h.Hidden {
				t.Errorf("at %v s: hold %d follows, which is hidden", c.at, h.Number)
			}
		}
	}
	if m := plan.At(at(0)); len(m.Following) != 3 {
		t.Errorf("%d holds follow the first, want 3", len(m.Following))
	}

	// Nothing is said of what is hidden: neither the way there nor its burst.
	c := Caller{Plan: plan, Rise: rise, Facing: Facing{Known: true}, FistDeg: FistDeg}
	for before := at(10); before.Before(at(96)); before = before.Add(time.Second) {
		if call, ok := c.Callout(before, before.Add(time.Second)); ok && call.Hold != 4 {
			t.Errorf("%s after rise: %q of hold %d", before.Sub(rise), call.Text, call.Hold)
		}
	}
}

// Without burst times a hold is hidden when all of it is.
func TestHiddenSweep(t *testing.T) {
	o := mover{0.5}
	pass := passOf(o, 3*time.Minute)
	pass.Hidden = []track.Interval{{From: rise.Add(30 * time.Second), To: rise.Add(100 * time.Second)}}
	plan, err := PlanPass(o, track.Site{}, pass, rise, Settings{BeamwidthDeg: 40}) // holds of 40 s
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, h := range plan.Holds {
		want := !h.Ready.Before(pass.Hidden[0].From) && !h.Until.After(pass.Hidden[0].To)
		if h.Hidden != want {
			t.Errorf("hold from %s to %s is hidden: %v", h.Ready.Sub(rise), h.Until.Sub(rise), h.Hidden)
		}
		if want {
			seen++
		}
	}
	if seen != 1 {
		t.Errorf("%d holds are hidden, want 1 of %d", seen, len(plan.Holds))
	}
}

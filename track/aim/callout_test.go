package aim

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"foreaim/track"
	"foreaim/track/beacon"
)

// callerOf plans a pass of a mover with bursts from 25 s after the rise on, or
// of unknown phase.
func callerOf(t testing.TB, period time.Duration, known bool) Caller {
	s := Settings{Schedule: beacon.Schedule{Period: period, Length: time.Second, Tolerance: 500 * time.Millisecond}, BeamwidthDeg: 50}
	if known {
		s.Schedule.First = rise.Add(25 * time.Second)
	}
	o := mover{0.7}
	plan, err := PlanPass(o, track.Site{}, passOf(o, 5*time.Minute), rise, s)
	if err != nil {
		t.Fatal(err)
	}
	return Caller{Plan: plan, Rise: rise, Facing: Facing{true, 20}, FistDeg: FistDeg}
}

type heard struct {
	after float64 // s after the rise
	Callout
}

// listenTo asks for callouts at every step, from some time after the rise on.
func listenTo(c Caller, from, to, step time.Duration) []heard {
	var all []heard
	for at := from; at <= to; at += step {
		if call, ok := c.Callout(rise.Add(at-step), rise.Add(at)); ok {
			c.Told = c.Told.With(call)
			all = append(all, heard{at.Seconds(), call})
		}
	}
	return all
}

// following returns the caller of somebody who has been told all up to a time
// after the rise.
func following(c Caller, to time.Duration) Caller {
	for _, h := range listenTo(c, -3*time.Minute, to, 100*time.Millisecond) {
		c.Told = c.Told.With(h.Callout)
	}
	return c
}

func TestCalloutsOfAPass(t *testing.T) {
	c := callerOf(t, 30*time.Second, true)
	got := listenTo(c, -5*time.Minute, 70*time.Second, 100*time.Millisecond)
	want := []struct {
		after  float64
		kind   CalloutKind
		hold   int
		text   string
		urgent bool
	}{
		{-120, CalloutRise, 1, "rise in two minutes: azimuth zero zero eight true, one and a half fists left of ahead, two fists up", true},
		{0, CalloutRise, 1, "risen; burst in twenty-three", false},
		{15.7, CalloutWait, 1, "burst in eight", false},
		{24, CalloutHold, 1, "hold", true},
		{25, CalloutBurst, 1, "burst", false},
		{27, CalloutMove, 2, "right twenty; burst in twenty-six", true},
		{45.7, CalloutWait, 2, "burst in eight", false},
		{54, CalloutHold, 2, "hold", true},
		{55, CalloutBurst, 2, "burst", false},
		{57, CalloutMove, 3, "right twenty; burst in twenty-six", true},
	}
	if len(got) != len(want) {
		t.Fatalf("%d callouts: %+v", len(got), got)
	}
	for i, w := range want {
		g := got[i]
		if g.after < w.after-0.01 || g.after > w.after+0.11 || g.Kind != w.kind || g.Hold != w.hold || g.Text != w.text || g.Urgent != w.urgent {
			t.Errorf("%d: %+v\nwant %+v", i, g, w)
		}
	}
	last := listenTo(c, 4*time.Minute, 8*time.Minute, 100*time.Millisecond)
	if end := last[len(last)-1]; end.Kind != CalloutEnd || end.Text != "no more bursts" {
		t.Errorf("at the end: %+v", end)
	}
}

// Without a phase only the new holds are said.
func TestCalloutsOfUnknownPhase(t *testing.T) {
	c := callerOf(t, 30*time.Second, false)
	number := regexp.MustCompile(`burst|hold`)
	moves := map[int]int{}
	for _, h := range listenTo(c, -3*time.Minute, 4*time.Minute, 100*time.Millisecond) {
		if number.MatchString(h.Text) || h.Kind != CalloutMove && h.Kind != CalloutRise {
			t.Errorf("%+v", h)
		}
		if h.Kind == CalloutMove {
			moves[h.Hold]++
		}
	}
	for _, h := range c.Plan.Holds[1 : len(c.Plan.Holds)-2] {
		if moves[h.Number] != 1 {
			t.Errorf("hold %d is said %d times", h.Number, moves[h.Number])
		}
	}
}

// However the frames come, each hold whose instruction can be said before its
// burst gets it once, in time; every callout can end before it is stale, a
// wait follows a pause, and a wait that is said is the screen's when it has been
// said (whole seconds, cut upwards; 0.3 s for the length of the number itself).
func TestInstructionsComeBeforeTheBurst(t *testing.T) {
	inWords := regexp.MustCompile(`burst in ([a-z-]+)$`)
	rapid.Check(t, func(t *rapid.T) {
		period := time.Duration(rapid.Int64Range(8, 130).Draw(t, "period")) * time.Second
		o := mover{rapid.Float64Range(0.05, 1).Draw(t, "pace")}
		s := Settings{Schedule: beacon.Schedule{Period: period, Length: time.Second, First: rise.Add(14 * time.Second),
			Tolerance: time.Duration(rapid.Int64Range(0, 3000).Draw(t, "tolerance")) * time.Millisecond}}
		plan, err := PlanPass(o, track.Site{}, passOf(o, 5*time.Minute), rise, s)
		if err != nil {
			t.Fatal(err)
		}
		c := Caller{Plan: plan, Rise: rise, Facing: Facing{true, 20}, FistDeg: FistDeg}
		frames := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "frames"), 1))
		said := map[int]int{}
		var silent time.Time // from then on
		before := rise.Add(-3 * time.Minute)
		for before.Before(rise.Add(6 * time.Minute)) {
			now := before.Add(time.Duration(50+frames.IntN(850)) * time.Millisecond)
			call, ok := c.Callout(before, now)
			before = now
			if !ok {
				continue
			}
			ends := now.Add(SpeakingTime(call.Text))
			if ends.After(call.StaleAfter) {
				t.Fatalf("%+v is stale before it ends at %v", call, ends)
			}
			if call.Kind == CalloutWait && now.Before(silent.Add(time.Second)) {
				t.Fatalf("%+v at %v follows what ends at %v", call, now, silent)
			}
			if call.Kind == CalloutHold && now.Before(silent) && period > 15*time.Second {
				t.Fatalf("%+v at %v interrupts what ends at %v", call, now, silent)
			}
			silent = ends
			c.Told = c.Told.With(call)
			next := plan.At(now).Next
			if next != nil && call.Hold != next.Number {
				t.Fatalf("%+v while hold %d is next", call, next.Number)
			}
			if call.Kind == CalloutMove || call.Kind == CalloutRise && said[1] == 0 {
				said[call.Hold]++
				if ends.After(next.At) {
					t.Fatalf("%+v ends after the burst at %v", call, next.At)
				}
			}
			if m := inWords.FindStringSubmatch(call.Text); m != nil {
				if left := next.At.Sub(ends).Seconds(); float64(unspell(m[1])) < left-0.3 || float64(unspell(m[1])) > left+1.3 {
					t.Fatalf("%+v at %v leaves %g s", call, now, left)
				}
			}
		}
		for _, h := range plan.Holds {
			if said[h.Number] != 1 {
				t.Fatalf("hold %d of period %v is said %d times", h.Number, period, said[h.Number])
			}
		}
	})
}

// After a gap only what matters now is said, against the facing when the hold
// before was missed.
func TestCalloutAfterAGap(t *testing.T) {
	c := callerOf(t, 30*time.Second, true)
	for _, g := range []struct {
		name        string
		before, now float64 // s after the rise
		kind        CalloutKind
		text        string
	}{
		{"short, over the end of a hold", 56.5, 60, CalloutMove, "right twenty; burst in twenty-three"},
		{"over two holds", 10, 90, CalloutMove, "azimuth zero seven one true, five fists right of ahead, two fists up; burst in twenty"},
		{"just before a burst", 10, 113, "", ""},
		{"the way only, when there is no time for more", 56.5, 81.5, CalloutMove, "right twenty"},
		{"late for the wait", 45, 47.5, CalloutWait, "burst in seven"},
		{"too late for the wait", 45, 51.5, "", ""},
		{"the burst", 54.95, 55.8, CalloutBurst, "burst"},
		{"too late for the burst", 54.95, 56.5, "", ""},
		{"too late for the hold", 53.5, 54.7, "", ""},
		{"the clock set back", 50, 45, "", ""},
		{"long after the pass", 10, 4000, "", ""},
	} {
		at := func(s float64) time.Time { return rise.Add(time.Duration(s * float64(time.Second))) }
		call, ok := following(c, at(g.before).Sub(rise)).Callout(at(g.before), at(g.now))
		if ok != (g.kind != "") || call.Kind != g.kind || call.Text != g.text {
			t.Errorf("%s: %v %+v", g.name, ok, call)
		}
	}
	if call, ok := c.Callout(time.Time{}, rise.Add(60*time.Second)); !ok || call.Hold != 3 || call.Text[:7] != "azimuth" {
		t.Errorf("at the start of the program in a pass: %v %+v", ok, call)
	}
}

func TestChangedPlanIsCorrected(t *testing.T) {
	was := callerOf(t, 30*time.Second, true)
	is := callerOf(t, 30*time.Second, true)
	was.Told = following(was, time.Minute).Told
	is.Told = was.Told
	is.Plan.Holds[2].AzimuthDeg += 9.8
	is.Plan.Holds[5].AzimuthDeg += 9.8
	now := rise.Add(62 * time.Second)
	call, ok := is.Changed(was, now)
	if want := "correction: from the last hold right thirty; burst in twenty-one"; !ok || call.Text != want || call.Kind != CalloutChanged {
		t.Errorf("%v %+v", ok, call)
	}
	if call, ok := is.Changed(is, now); ok {
		t.Errorf("nothing has changed: %+v", call)
	}
	if call, ok := is.Changed(was, rise.Add(84*time.Second)); ok {
		t.Errorf("a second before the burst: %+v", call)
	}
	was.Told = Told{}
	is = was
	is.Facing = Facing{true, 50}
	call, ok = is.Changed(was, rise.Add(-time.Minute))
	if want := "correction: rise in sixty: azimuth zero zero eight true, four and a half fists left of ahead, two fists up"; !ok || call.Text != want {
		t.Errorf("a new facing: %v %+v", ok, call)
	}
}

// A voice that is slower is begun earlier and told shorter waits.
func TestCallerKnowsItsVoice(t *testing.T) {
	c := callerOf(t, 30*time.Second, true)
	c.Speaking = func(s string) time.Duration { return 3 * SpeakingTime(s) }
	c = following(c, 20*time.Second)
	for _, h := range listenTo(c, 27*time.Second, 55*time.Second, 100*time.Millisecond) {
		if h.Kind == CalloutMove && h.Text != "right twenty; burst in twenty-one" {
			t.Errorf("%+v", h)
		}
		if h.Kind == CalloutWait && (h.after < 42.9 || h.after > 43.1) {
			t.Errorf("%+v", h)
		}
	}
}

// Where the hand must rest long before the burst, "hold" says the wait, and
// nothing else does.
func TestHoldSaysALongWait(t *testing.T) {
	o := mover{0.7}
	s := Settings{Schedule: beacon.Schedule{Period: 30 * time.Second, First: rise.Add(25 * time.Second),
		Length: time.Second, Tolerance: 3500 * time.Millisecond}}
	plan, err := PlanPass(o, track.Site{}, passOf(o, 2*time.Minute), rise, s)
	if err != nil {
		t.Fatal(err)
	}
	c := following(Caller{Plan: plan, Rise: rise, FistDeg: FistDeg}, 30*time.Second)
	var texts []string
	for _, h := range listenTo(c, 32*time.Second, 60*time.Second, 100*time.Millisecond) {
		texts = append(texts, h.Text)
	}
	if got, want := strings.Join(texts, " | "), "right twenty; burst in twenty | hold; burst in six | burst"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A frame in which nothing is to be said, which is nearly every one.
func BenchmarkCallout(b *testing.B) {
	c := callerOf(b, 30*time.Second, true)
	now := rise.Add(70 * time.Second)
	for b.Loop() {
		c.Callout(now.Add(-100*time.Millisecond), now)
	}
}

package aim

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"foreaim/track"
	"foreaim/track/beacon"
)

// Somebody starts the program in mid-pass, when it is too late for the way to
// the hold that is next. The first way that is said begins at the facing, the
// next one at the hold that it led to; a correction begins where the way did.
func TestFirstWayInMidPass(t *testing.T) {
	c := callerOf(t, 30*time.Second, true)
	var ways []heard
	before := time.Time{}
	for at := 52 * time.Second; at < 2*time.Minute; at += 100 * time.Millisecond {
		now := rise.Add(at)
		if call, ok := c.Callout(before, now); ok && call.Way {
			if call.Hold == 3 {
				is := c
				is.Told = is.Told.With(call)
				turned := is
				turned.Facing.AzimuthDeg += 30
				if again, ok := turned.Changed(is, now.Add(time.Second)); !ok || again.From != 0 || !strings.HasPrefix(again.Text, "correction: azimuth ") {
					t.Errorf("a correction of the first way: %v %+v", ok, again)
				}
			}
			c.Told = c.Told.With(call)
			ways = append(ways, heard{at.Seconds(), call})
		}
		before = now
	}
	want := []struct {
		hold, from int
		text       string
	}{
		{3, 0, "azimuth zero five zero true, three fists right of ahead, two fists up; burst in twenty-two"},
		{4, 3, "right twenty; burst in twenty-six"},
		{5, 4, "right twenty; burst in twenty-six"},
	}
	if len(ways) != len(want) {
		t.Fatalf("%d ways: %+v", len(ways), ways)
	}
	for i, w := range want {
		if g := ways[i]; g.Hold != w.hold || g.From != w.from || g.Text != w.text {
			t.Errorf("%d: %+v\nwant %+v", i, g, w)
		}
	}
}

// Whenever the program starts, however slow the voice and short the period:
// the way is said from a hold only to somebody who was sent there last.
func TestWaysBeginWhereTheHandIs(t *testing.T) {
	var first, steps, gaps int
	rapid.Check(t, func(t *rapid.T) {
		o := mover{rapid.Float64Range(0.05, 1).Draw(t, "pace")}
		s := Settings{Schedule: beacon.Schedule{Period: time.Duration(rapid.Int64Range(4, 40).Draw(t, "period")) * time.Second,
			Length: time.Second, First: rise.Add(14 * time.Second)}}
		plan, err := PlanPass(o, track.Site{}, passOf(o, 5*time.Minute), rise, s)
		if err != nil {
			t.Fatal(err)
		}
		slow := rapid.Float64Range(0.5, 4).Draw(t, "slowness")
		c := Caller{Plan: plan, Rise: rise, Facing: Facing{true, 20}, FistDeg: FistDeg,
			Speaking: func(text string) time.Duration {
				return time.Duration(slow * float64(SpeakingTime(text)))
			}}
		frames := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "frames"), 1))
		now := rise.Add(time.Duration(rapid.Int64Range(-60, 200).Draw(t, "start")) * time.Second)
		var before time.Time
		at := 0 // the hold that the hand is at or on its way to
		for now.Before(rise.Add(5 * time.Minute)) {
			call, ok := c.Callout(before, now)
			if ok && call.Way {
				m := c.Plan.At(now)
				if call.From != 0 && (call.From != at || m.Last == nil || call.From != m.Last.Number) {
					t.Fatalf("%+v, but the hand is at hold %d", call, at)
				}
				want := m.Next.PlaceSpeech(c.Facing, c.FistDeg)
				if call.From != 0 {
					want = StepSpeech(m.Last.Direction, m.Next.Direction, c.FistDeg)
					steps++
				} else if at == 0 {
					first++
				} else {
					gaps++
				}
				if !strings.Contains(call.Text, want) {
					t.Fatalf("%+v, want %q in it", call, want)
				}
				at = call.Hold
				c.Told = c.Told.With(call)
			}
			before, now = now, now.Add(time.Duration(50+frames.IntN(850))*time.Millisecond)
			if frames.IntN(60) == 0 { // a computer that sleeps for a while
				now = now.Add(time.Duration(frames.IntN(60)) * time.Second)
			}
		}
	})
	if first == 0 || steps == 0 || gaps == 0 {
		t.Errorf("%d first ways, %d from a hold, %d after a gap: too few to say anything", first, steps, gaps)
	}
}

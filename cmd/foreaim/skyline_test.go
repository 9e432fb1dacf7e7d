package main

import (
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"

	"pgregory.net/rapid"
)

// The least and the most bursts in sight are those of trying every phase, a
// tenth of a second apart, and counting burst by burst.
func TestCountBurstsBehindSkyline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(1, 900)
		at := mustTime(testNow)
		p := passOf{satellite: satellite{schedule: beacon.Schedule{Period: time.Duration(rapid.IntRange(20, 600).Draw(t, "period")) * 100 * time.Millisecond}}}
		p.Rise = track.Look{Time: at}
		next := func(name string) time.Time {
			at = at.Add(time.Duration(tenths.Draw(t, name)) * 100 * time.Millisecond)
			return at
		}
		for range rapid.IntRange(0, 4).Draw(t, "trees") {
			p.Hidden = append(p.Hidden, track.Interval{From: next("in sight"), To: next("hidden")})
		}
		p.Set = track.Look{Time: next("in sight")}

		wantLeast, wantMost := 1<<30, 0
		for phase := time.Duration(0); phase < p.schedule.Period; phase += 100 * time.Millisecond {
			count := 0
			for burst := p.Rise.Time.Add(phase); burst.Before(p.Set.Time); burst = burst.Add(p.schedule.Period) {
				hidden := false
				for _, h := range p.Hidden {
					hidden = hidden || !burst.Before(h.From) && burst.Before(h.To)
				}
				if !hidden {
					count++
				}
			}
			wantLeast, wantMost = min(wantLeast, count), max(wantMost, count)
			known := p
			known.schedule.First = p.Rise.Time.Add(phase - 7*p.schedule.Period)
			if least, most, err := known.countBursts(); err != nil || least != count || most != count {
				t.Fatalf("phase %v: %d to %d, %v, want %d", phase, least, most, err, count)
			}
		}
		if least, most, err := p.countBursts(); err != nil || least != wantLeast || most != wantMost {
			t.Fatalf("%d to %d, %v, want %d to %d", least, most, err, wantLeast, wantMost)
		}
	})
}

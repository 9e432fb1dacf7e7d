package aim

import (
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// Three minutes with one of them hidden hold every phase's bursts, counted one
// by one here.
func TestCountBursts(t *testing.T) {
	pass := passOf(mover{1}, 3*time.Minute)
	pass.Hidden = []track.Interval{{From: rise.Add(50 * time.Second), To: rise.Add(110 * time.Second)}}
	for _, period := range []time.Duration{7 * time.Second, 25 * time.Second, 40 * time.Second, 70 * time.Second} {
		schedule := beacon.Schedule{Period: period}
		low, high := 1000, 0
		for phase := time.Duration(0); phase < period; phase += 250 * time.Millisecond {
			sum := 0
			for at := phase; at < 3*time.Minute; at += period {
				if at < 50*time.Second || at >= 110*time.Second {
					sum++
				}
			}
			low, high = min(low, sum), max(high, sum)
			schedule.First = rise.Add(phase)
			least, most, err := CountBursts(pass, schedule)
			if err != nil || least != sum || most != sum {
				t.Errorf("every %s from %s: %d to %d, %v, want %d", period, phase, least, most, err, sum)
			}
		}
		schedule.First = time.Time{}
		if least, most, err := CountBursts(pass, schedule); err != nil || least != low || most != high {
			t.Errorf("every %s: %d to %d, %v, want %d to %d", period, least, most, err, low, high)
		}
	}
	if _, _, err := CountBursts(pass, beacon.Schedule{}); err == nil {
		t.Error("bursts without a period are counted")
	}
}

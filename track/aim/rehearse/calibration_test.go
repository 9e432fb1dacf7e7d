package rehearse

import (
	"context"
	"math"
	"os"
	"sync"
	"testing"

	"foreaim/track/aim"
)

// calibration counts how often what the belief states is so.
type calibration struct {
	bursts, late, heading float64     // stated, and within the 68 % intervals
	stated, came          [10]float64 // by stated probability, in tenths
}

func within(e aim.Estimate, v float64) float64 {
	if v >= e.Low && v <= e.High {
		return 1
	}
	return 0
}

func calibrate(t *testing.T, s Settings) (c calibration) {
	t.Helper()
	var mutex sync.Mutex
	err := each(context.Background(), s.Passes, nil, func(i int) error {
		w, err := draw(s, i)
		if err != nil {
			return err
		}
		var p calibration
		_, err = w.play(Learn, func(a aimer, b burst, heard bool) {
			if !b.up {
				return
			}
			ad := a.(*learner).advice
			p.bursts++
			p.late += within(ad.TimeErrorS, w.lateS)
			p.heading += within(ad.HeadingErrorDeg, w.headingDeg)
			k := int(ad.HearProbability * 10)
			p.stated[k]++
			if heard {
				p.came[k]++
			}
		})
		mutex.Lock()
		defer mutex.Unlock()
		c.bursts += p.bursts
		c.late += p.late
		c.heading += p.heading
		for k := range c.stated {
			c.stated[k] += p.stated[k]
			c.came[k] += p.came[k]
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// With 1,000 passes (PASSES=1000); few passes leave an error of 0.1. Where the
// margin is wrong, the belief is told that it may be, by 4 dB.
func TestStatedErrorsAreHonest(t *testing.T) {
	for _, c := range []struct{ hand, fading, off float64 }{{0, 0, 0}, {8, 5, 0}, {8, 5, 4}, {8, 5, -4}, {0, 0, 4}, {0, 0, -4}} {
		if c.hand == 0 && c.off != 0 && os.Getenv("PASSES") == "" {
			continue
		}
		s := Default()
		s.Passes, s.Seed = passes(20), 7
		s.AimErrorDeg, s.FadingDB, s.TrueMarginDB = c.hand, c.fading, c.off
		if c.off != 0 {
			s.MarginErrorDB = 4
		}
		slack := 1 / math.Sqrt(float64(s.Passes)) // bursts of one pass hang together
		k := calibrate(t, s)
		late, heading, came := k.late/k.bursts, k.heading/k.bursts, k.came[7]/k.stated[7]
		t.Logf("hand %v°, fading %v dB, margin off by %v dB: time %.2f, heading %.2f; of 70 to 80 %%, %.2f", c.hand, c.fading, c.off, late, heading, came)
		for name, share := range map[string]float64{"time error": late, "heading error": heading} {
			if share < 0.60-slack || share > 0.76+slack {
				t.Errorf("68 %% intervals hold the %s in %.2f, want 0.60 to 0.76 (± %.2f)", name, share, slack)
			}
		}
		if c.off == 0 && (came < 0.65-slack || came > 0.85+slack) {
			t.Errorf("of 70 to 80 %%, %.2f came true, want 0.65 to 0.85 (± %.2f)", came, slack)
		}
	}
}

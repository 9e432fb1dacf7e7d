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
		c.add(p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// add adds what another run counted.
func (c *calibration) add(o calibration) {
	c.bursts += o.bursts
	c.late += o.late
	c.heading += o.heading
	for k := range c.stated {
		c.stated[k] += o.stated[k]
		c.came[k] += o.came[k]
	}
}

// With PASSES=1000 the intervals hold 65 to 73 %, and of 70 to 80 % come true 76 %,
// 74 with a hand; with the margin off by +4 and −4 dB 94 and 68, with a hand 81 and
// 55. Few passes leave an error of 0.1. Where the margin is
// wrong, the belief is told that it may be, by 4 dB. A burst's probability can't
// be right for both signs alike, as long as nobody knows the sign: it must
// be for both together.
func TestStatedErrorsAreHonest(t *testing.T) {
	for _, c := range []struct {
		hand, fading float64
		off          []float64
	}{{0, 0, []float64{0}}, {8, 5, []float64{0}}, {8, 5, []float64{4, -4}}, {0, 0, []float64{4, -4}}} {
		if c.hand == 0 && len(c.off) > 1 && os.Getenv("PASSES") == "" {
			continue
		}
		s := Default()
		s.Passes, s.Seed = passes(16), 8
		s.AimErrorDeg, s.FadingDB = c.hand, c.fading
		slack := 1 / math.Sqrt(float64(s.Passes)) // bursts of one pass hang together
		var both calibration
		for _, off := range c.off {
			if s.TrueMarginDB = off; off != 0 {
				s.MarginErrorDB = 4
			}
			k := calibrate(t, s)
			both.add(k)
			late, heading := k.late/k.bursts, k.heading/k.bursts
			t.Logf("hand %v°, fading %v dB, margin off by %v dB: time %.3f, heading %.3f; of 70 to 80 %%, %.3f", c.hand, c.fading, off, late, heading, k.came[7]/k.stated[7])
			for name, share := range map[string]float64{"time error": late, "heading error": heading} {
				if share < 0.60-slack || share > 0.76+slack {
					t.Errorf("margin off by %v dB: 68 %% intervals hold the %s in %.2f, want 0.60 to 0.76 (± %.2f)", off, name, share, slack)
				}
			}
		}
		if came := both.came[7] / both.stated[7]; !(came >= 0.65-slack && came <= 0.85+slack) {
			t.Errorf("margin off by %v dB: of 70 to 80 %%, %.2f came true, want 0.65 to 0.85 (± %.2f)", c.off, came, slack)
		}
	}
}

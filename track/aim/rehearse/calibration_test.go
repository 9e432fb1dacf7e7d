package rehearse

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"sync"
	"testing"

	"foreaim/track/aim"
)

// calibration counts how often what the belief states is so.
type calibration struct {
	bursts, late, heading     float64 // stated, and within the 68 % intervals
	ends, endLate, endHeading float64
	stated, came              [10]float64 // by stated probability, in tenths
	doubted                   float64
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
		var last aim.Advice
		_, err = w.play(Learn, func(a aimer, b burst, heard bool) {
			if !b.up {
				return
			}
			ad := a.(*learner).advice
			last = ad
			p.bursts++
			p.late += within(ad.TimeErrorS, w.lateS)
			p.heading += within(ad.HeadingErrorDeg, w.headingDeg)
			k := int(ad.HearProbability * 10)
			p.stated[k]++
			if heard {
				p.came[k]++
			}
			if !ad.Explains {
				p.doubted++
			}
		})
		mutex.Lock()
		defer mutex.Unlock()
		c.ends++
		c.endLate += within(last.TimeErrorS, w.lateS)
		c.endHeading += within(last.HeadingErrorDeg, w.headingDeg)
		c.bursts += p.bursts
		c.late += p.late
		c.heading += p.heading
		c.doubted += p.doubted
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

func TestCal(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("PASSES"))
	if n == 0 {
		n = 20
	}
	for _, c := range []struct{ hand, fade, off, beam float64 }{{0, 0, 0, 1}, {8, 5, 0, 1}, {0, 0, 4, 1}, {0, 0, -4, 1}, {8, 5, 4, 1}, {8, 5, -4, 1}, {8, 5, -4, 0.8}} {
		s := Default()
		s.Passes, s.Seed, s.AimErrorDeg, s.FadingDB, s.TrueMarginDB, s.TrueBeamwidth = n, 7, c.hand, c.fade, c.off, c.beam
		k := calibrate(t, s)
		fmt.Printf("%v: late %.3f heading %.3f  at end %.3f %.3f doubted %.3f\n", c, k.late/k.bursts, k.heading/k.bursts, k.endLate/k.ends, k.endHeading/k.ends, k.doubted/k.bursts)
		for i := range k.stated {
			fmt.Printf("  %.2f(%.0f)", k.came[i]/k.stated[i], k.stated[i])
		}
		fmt.Println()
	}
}

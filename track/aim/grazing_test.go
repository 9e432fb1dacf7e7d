package aim_test

import (
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
)

func TestPassesThatGrazeTheHorizonAreTold(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	half := beacon.Schedule{Period: 30 * time.Second}
	known := func(first time.Duration) beacon.Schedule {
		return beacon.Schedule{Period: 30 * time.Second, First: now.Add(first)}
	}
	for _, c := range []struct {
		name        string
		rises       time.Duration
		lasts       time.Duration
		peakDeg     float64
		schedule    beacon.Schedule
		hiddenAfter time.Duration // 0: nothing is hidden
		grazing     bool
	}{
		{"low, nothing known", time.Hour, 100 * time.Second, 1.9, beacon.Schedule{}, 0, true},
		{"higher, nothing known", time.Hour, 100 * time.Second, 2.1, beacon.Schedule{}, 0, false},
		{"shorter than a period", time.Hour, 16 * time.Second, 0, half, 0, true},
		{"short, between two bursts", time.Hour, 16 * time.Second, 0, known(20 * time.Second), 0, true},
		{"short, with a burst", time.Hour, 16 * time.Second, 0, known(10 * time.Second), 0, false},
		{"low, with bursts whatever the phase", time.Hour, 100 * time.Second, 1.5, half, 0, false},
		{"high, and a long period", time.Hour, 500 * time.Second, 60, beacon.Schedule{Period: 10 * time.Minute}, 0, false},
		{"high, but no burst of a long period", time.Hour, 500 * time.Second, 60, beacon.Schedule{Period: 10 * time.Minute, First: now.Add(9 * time.Minute)}, 0, true},
		{"the only burst is hidden", time.Hour, 40 * time.Second, 10, known(25 * time.Second), 20 * time.Second, true},
		{"under way", -5 * time.Second, 16 * time.Second, 0, half, 0, false},
	} {
		rise := now.Add(c.rises)
		pass := track.Pass{
			Rise: track.Look{Time: rise}, Set: track.Look{Time: rise.Add(c.lasts)},
			Peak: track.Look{Time: rise.Add(c.lasts / 2), ElevationDeg: c.peakDeg},
		}
		if c.hiddenAfter > 0 {
			pass.Hidden = []track.Interval{{From: rise.Add(c.hiddenAfter), To: rise.Add(c.lasts - time.Second)}}
		}
		if got := aim.Grazing(pass, c.schedule, now); got != c.grazing {
			t.Errorf("%s: grazing is %v", c.name, got)
		}
	}
}

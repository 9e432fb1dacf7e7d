package track

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track/elements"
)

// invented orbits for the cases below.
func madeSet(name string, revs, eccentricity, inclination, node, perigee, anomaly float64) elements.Set {
	return elements.Set{
		Name: name, Epoch: time.Date(2027, 3, 4, 5, 6, 7, 890e6, time.UTC), MeanMotionRevPerDay: revs,
		Eccentricity: eccentricity, InclinationDeg: inclination, NodeDeg: node, PerigeeDeg: perigee, AnomalyDeg: anomaly,
	}
}

func search10Days(t *testing.T, o *Orbit, site Site, minimum float64) []Pass {
	t.Helper()
	passes, err := o.Passes(context.Background(), site, o.epoch, o.epoch.Add(240*time.Hour), minimum)
	if err != nil {
		t.Fatal(err)
	}
	return passes
}

func TestGeostationary(t *testing.T) {
	o := orbit(t, madeSet("STILL", 1.00273, 0.0001, 0.02, 0, 0, 0))
	below, err := o.Ground(o.epoch)
	if err != nil {
		t.Fatal(err)
	}
	site := Site{LatitudeDeg: 40, LongitudeDeg: below.LongitudeDeg}
	up := search10Days(t, o, site, 10)
	if len(up) != 1 || !up[0].AlwaysUp || !up[0].Rise.Time.Equal(o.epoch) || up[0].Duration() != 240*time.Hour {
		t.Errorf("always up: %+v", up)
	}
	if up[0].Peak.Time.Before(up[0].Rise.Time) || up[0].Peak.Time.After(up[0].Set.Time) || up[0].Peak.ElevationDeg < up[0].Rise.ElevationDeg {
		t.Errorf("peak: %+v", up[0])
	}
	site.LongitudeDeg = Wrap360(below.LongitudeDeg) - 180
	if never := search10Days(t, o, site, 10); len(never) != 0 {
		t.Errorf("from the other side: %+v", never)
	}
}

func TestNeverRising(t *testing.T) {
	o := orbit(t, madeSet("FLAT", 15.2, 0.001, 10, 0, 0, 0))
	if passes := search10Days(t, o, Site{LatitudeDeg: 70}, 0); len(passes) != 0 {
		t.Errorf("an orbit at 10° inclination seen from 70° north: %+v", passes)
	}
}

// A polar site sees every revolution of a polar orbit: one pass each.
func TestPolarSite(t *testing.T) {
	const revs = 14.8
	o := orbit(t, madeSet("POLAR", revs, 0.001, 90, 0, 0, 0))
	for _, lat := range []float64{90, -90} {
		passes := search10Days(t, o, Site{LatitudeDeg: lat, LongitudeDeg: 33}, 0)
		if math.Abs(float64(len(passes))-10*revs) > 1.5 {
			t.Errorf("%v°: %d passes in %.0f revolutions", lat, len(passes), 10*revs)
		}
		for _, p := range passes {
			if p.Peak.ElevationDeg < 85 {
				t.Errorf("%v°: peak %.2f°, want overhead", lat, p.Peak.ElevationDeg)
			}
		}
	}
}

func TestExtremeMinimum(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	if passes := search10Days(t, o, benchSite, -90); len(passes) != 1 || !passes[0].AlwaysUp {
		t.Errorf("above -90°: %d passes, want always up", len(passes))
	}
	if passes := search10Days(t, o, benchSite, 90); len(passes) != 0 {
		t.Errorf("above 90°: %+v", passes)
	}
	low, level, high := len(search10Days(t, o, benchSite, -3)), len(search10Days(t, o, benchSite, 0)), len(search10Days(t, o, benchSite, 60))
	if !(low >= level && level > high && high > 0) {
		t.Errorf("%d passes above -3°, %d above 0°, %d above 60°", low, level, high)
	}
}

// Passes that begin before the window or end after it are given whole, the
// same as in a longer search.
func TestPassUnderWay(t *testing.T) {
	for _, set := range []elements.Set{
		invented(t)["INVENTED-1"],
		invented(t)["INVENTED-3"],
		madeSet("TWELVE HOURS", 2.0057, 0.72, 63.4, 120, 270, 10),
		madeSet("TRANSFER", 2.25, 0.73, 7, 40, 180, 0),
	} {
		o := orbit(t, set)
		for _, want := range search10Days(t, o, benchSite, 3)[1:] {
			third := want.Duration() / 3
			for _, window := range [][2]time.Time{
				{want.Rise.Time.Add(third), want.Set.Time.Add(third)},
				{want.Rise.Time.Add(-third), want.Set.Time.Add(-third)},
				{want.Rise.Time.Add(third), want.Set.Time.Add(-third)},
				{want.Peak.Time, want.Peak.Time},
			} {
				got, err := o.Passes(context.Background(), benchSite, window[0], window[1], 3)
				if err != nil || len(got) == 0 {
					t.Errorf("%s: %v %v, want the pass of %s", set.Name, got, err, want.Rise.Time)
					continue
				}
				if !samePass(got[0], want) && !samePass(got[len(got)-1], want) {
					t.Errorf("%s: %+v, want %+v", set.Name, got, want)
				}
			}
		}
	}
}

func samePass(a, b Pass) bool {
	near := func(a, b Look, s float64) bool { return math.Abs(a.Time.Sub(b.Time).Seconds()) < s }
	return near(a.Rise, b.Rise, 0.01) && near(a.Set, b.Set, 0.01) && near(a.Peak, b.Peak, 1) &&
		math.Abs(a.Peak.ElevationDeg-b.Peak.ElevationDeg) < 0.001
}

// A long pass of an eccentric orbit can have several peaks; the highest counts.
func TestHighestOfSeveralPeaks(t *testing.T) {
	several := 0
	for node := 0.0; node < 360; node += 30 {
		o := orbit(t, madeSet("TWELVE HOURS", 2.0057, 0.72, 63.4, node, 270, 0))
		for _, p := range search10Days(t, o, benchSite, 0) {
			if p.AlwaysUp {
				continue
			}
			best, peaks, last, rising := -90.0, 0, -90.0, true
			for at := p.Rise.Time; at.Before(p.Set.Time); at = at.Add(time.Minute) {
				look, err := o.Look(benchSite, at)
				if err != nil {
					t.Fatal(err)
				}
				if rising && look.ElevationDeg < last {
					peaks++
				}
				rising, last = look.ElevationDeg >= last, look.ElevationDeg
				best = math.Max(best, last)
			}
			if peaks > 1 {
				several++
			}
			if p.Peak.ElevationDeg < best-1e-4 || p.Peak.ElevationDeg > best+2 {
				t.Errorf("node %v°, rise %s: peak %.4f°, highest seen %.4f°", node, p.Rise.Time, p.Peak.ElevationDeg, best)
			}
		}
	}
	if several < 10 {
		t.Errorf("only %d passes with several peaks", several)
	}
}

// Passes whose peaks clear the minimum by less and less, down to a stay of
// milliseconds.
func TestGrazing(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	all := search10Days(t, o, benchSite, 0)
	for _, p := range all {
		for _, below := range []float64{1e-2, 1e-4, 1e-6} {
			got, err := o.Passes(context.Background(), benchSite, p.Rise.Time, p.Set.Time, p.Peak.ElevationDeg-below)
			if err != nil || len(got) != 1 || math.Abs(got[0].Peak.Time.Sub(p.Peak.Time).Seconds()) > 0.2 || got[0].Duration() <= 0 {
				t.Errorf("%v° under the peak of %s: %+v, %v", below, p.Peak.Time, got, err)
			}
		}
		if got, err := o.Passes(context.Background(), benchSite, p.Rise.Time, p.Set.Time, p.Peak.ElevationDeg+1e-4); err != nil || len(got) != 0 {
			t.Errorf("over the peak of %s: %+v, %v", p.Peak.Time, got, err)
		}
	}
}

// The object comes down in mid-search: what was found stays, with the reason.
func TestPassesUntilDecay(t *testing.T) {
	set := invented(t)["INVENTED-1"]
	set.MeanMotionRevPerDay, set.BStar = 16.1, 5e-3
	o := orbit(t, set)
	passes, err := o.Passes(context.Background(), benchSite, o.epoch, o.epoch.AddDate(0, 1, 0), 0)
	var timeErr *TimeError
	if !errors.As(err, &timeErr) || len(passes) == 0 {
		t.Fatalf("%d passes, error %v", len(passes), err)
	}
	if last := passes[len(passes)-1]; last.Set.Time.After(timeErr.Time) {
		t.Errorf("set at %s, after the end at %s", last.Set.Time, timeErr.Time)
	}
	if _, err := o.Passes(context.Background(), benchSite, o.epoch.AddDate(1, 0, 0), o.epoch.AddDate(1, 0, 1), 0); !errors.As(err, &timeErr) {
		t.Errorf("a year later: error %v", err)
	}
}

func TestPassesRefuses(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	day := o.epoch.Add(24 * time.Hour)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		name     string
		ctx      context.Context
		site     Site
		from, to time.Time
		minimum  float64
		want     string
	}{
		{"site", context.Background(), Site{LatitudeDeg: 91}, o.epoch, day, 0, "latitude 91 is outside -90 to 90"},
		{"minimum", context.Background(), benchSite, o.epoch, day, 90.5, "minimum elevation 90.5 is outside -90 to 90"},
		{"NaN", context.Background(), benchSite, o.epoch, day, math.NaN(), "minimum elevation NaN"},
		{"backwards", context.Background(), benchSite, day, o.epoch, 0, "before it begins"},
		{"far", context.Background(), benchSite, o.epoch, o.epoch.AddDate(80, 0, 0), 0, "more than 50 years"},
		{"cancelled", cancelled, benchSite, o.epoch, o.epoch.AddDate(1, 0, 0), 0, "context canceled"},
	} {
		if _, err := o.Passes(c.ctx, c.site, c.from, c.to, c.minimum); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
}

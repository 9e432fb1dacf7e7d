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

// launch is a group strung out along one orbit: lateS seconds behind the
// reference each. (Near the Earth SGP4 does not know the date, so that elements
// with a later epoch are the same orbit, later.)
func launch(t *testing.T, lateS ...float64) (reference elements.Set, group []elements.Set) {
	reference = benchSet(t)
	reference.Name, reference.CatalogueNumber, reference.Designator = "OBJECT A", 70_000, "2026-901A"
	for i, late := range lateS {
		set := reference
		set.Name = "OBJECT " + string(rune('B'+i))
		set.CatalogueNumber += 1 + i
		set.Epoch = set.Epoch.Add(seconds(late))
		group = append(group, set)
	}
	return reference, group
}

// Each object rises when the reference, taken late by the same time, is at the
// minimum elevation, and peaks when that is highest.
func TestAlongPass(t *testing.T) {
	lates := []float64{190, -45.5, 2, 900}
	reference, group := launch(t, lates...)
	o := orbit(t, reference)
	passes, err := o.Passes(t.Context(), benchSite, o.epoch, o.epoch.Add(48*time.Hour), 5)
	if err != nil || len(passes) == 0 {
		t.Fatalf("%d passes, %v", len(passes), err)
	}
	seen := 0
	for _, pass := range passes {
		older := reference // another set of the same object
		older.Name, older.Epoch = "object a", reference.Epoch.Add(-time.Hour)
		members, err := AlongPass(t.Context(), o, pass, append(group, reference, older), benchSite, Horizon{MinElevationDeg: 5})
		if err != nil || len(members) != len(group) {
			t.Fatalf("%d members, %v, want %d", len(members), err, len(group))
		}
		last := -time.Hour
		for _, m := range members {
			if m.Pass == nil {
				continue // a grazing pass that the turning Earth has taken away
			}
			seen++
			if m.RisesAfter < last {
				t.Errorf("%s is out of order", m.Set.Name)
			}
			last = m.RisesAfter
			late := lates[m.Set.CatalogueNumber-70_001]
			at := func(when time.Time) float64 {
				l, err := o.LookLate(benchSite, when, late)
				if err != nil {
					t.Fatal(err)
				}
				return l.ElevationDeg
			}
			if rise := at(pass.Rise.Time.Add(m.RisesAfter)); math.Abs(rise-5) > 0.01 {
				t.Errorf("%s late by %v s: at %.3f° when it rises, want 5°", m.Set.Name, late, rise)
			}
			peak := pass.Peak.Time.Add(m.PeaksAfter)
			if top := at(peak); math.Abs(top-m.Pass.Peak.ElevationDeg) > 0.01 || at(peak.Add(-5*time.Second)) > top || at(peak.Add(5*time.Second)) > top {
				t.Errorf("%s late by %v s: does not peak when it should, at %.3f°", m.Set.Name, late, top)
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d passes of other objects: nothing was tested", seen)
	}
}

// What does not pass, can't be computed, or is always up is said so, and comes
// last. (The Earth, which turns on, makes 29 s of 30 s here.)
func TestAlongPassWithout(t *testing.T) {
	reference, group := launch(t, 30)
	o := orbit(t, reference)
	passes, err := o.Passes(t.Context(), benchSite, o.epoch, o.epoch.Add(48*time.Hour), 5)
	if err != nil || len(passes) == 0 {
		t.Fatalf("%d passes, %v", len(passes), err)
	}
	low, equator, still := group[0], group[0], group[0]
	low.Name, low.CatalogueNumber, low.MeanMotionRevPerDay = "SUNK", 1, 17
	equator.Name, equator.CatalogueNumber, equator.InclinationDeg = "ELSEWHERE", 2, 1
	still.Name, still.CatalogueNumber, still.InclinationDeg, still.MeanMotionRevPerDay = "STILL", 3, 0.01, 1.0027379
	site := benchSite
	still.AnomalyDeg = longitudeToAnomaly(t, still, site, passes[0].Peak.Time)
	members, err := AlongPass(t.Context(), o, passes[0], []elements.Set{low, equator, still, group[0]}, site, Horizon{MinElevationDeg: 5})
	if err != nil || len(members) != 4 {
		t.Fatalf("%+v, %v", members, err)
	}
	for i, want := range []string{
		"OBJECT B rises 29 s after OBJECT A and peaks at ",
		"ELSEWHERE does not pass within half a revolution of OBJECT A",
		"STILL is always up",
		"SUNK: perigee below 156 km",
	} {
		if got := members[i].Words(reference); !strings.HasPrefix(got, want) {
			t.Errorf("%d: %q, want %q", i, got, want)
		}
	}
	if !errors.Is(members[3].Err, ErrLowPerigee) {
		t.Errorf("error %v, want %v", members[3].Err, ErrLowPerigee)
	}
	if _, err := AlongPass(t.Context(), o, Pass{AlwaysUp: true}, group, site, Horizon{}); !errors.Is(err, ErrNoRise) {
		t.Errorf("error %v, want %v", err, ErrNoRise)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := AlongPass(ctx, o, passes[0], group, site, Horizon{MinElevationDeg: 5}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

// longitudeToAnomaly finds the anomaly that puts an object above the site's
// meridian at t.
func longitudeToAnomaly(t *testing.T, set elements.Set, site Site, at time.Time) float64 {
	t.Helper()
	g, err := orbit(t, set).Ground(at)
	if err != nil {
		t.Fatal(err)
	}
	return Wrap360(set.AnomalyDeg + site.LongitudeDeg - g.LongitudeDeg)
}

func TestOfLaunch(t *testing.T) {
	for _, c := range []struct {
		id, prefix string
		want       bool
	}{
		{"2026-901A", "2026-901", true},
		{"2026-901AB", "2026-901", true},
		{"2026-901ab", "2026-901A", true},
		{"2026-9011", "2026-901", false},
		{"2026-902A", "2026-901", false},
		{"2026", "2026-901", false},
		{"", "2026-901", false},
		{"", "", true},
	} {
		if got := OfLaunch(elements.Set{Designator: c.id}, c.prefix); got != c.want {
			t.Errorf("%q of %q: %t, want %t", c.id, c.prefix, got, c.want)
		}
	}
}

func BenchmarkAlongPassOf100(b *testing.B) {
	reference := benchSet(b)
	o := orbit(b, reference)
	passes, err := o.Passes(b.Context(), benchSite, o.epoch, o.epoch.Add(24*time.Hour), 5)
	if err != nil || len(passes) == 0 {
		b.Fatalf("%d passes, %v", len(passes), err)
	}
	group := make([]elements.Set, 100)
	for i := range group {
		group[i] = reference
		group[i].CatalogueNumber += 1 + i
		group[i].Epoch = reference.Epoch.Add(time.Duration(i) * 3 * time.Second)
	}
	for b.Loop() {
		if _, err := AlongPass(b.Context(), o, passes[0], group, benchSite, Horizon{MinElevationDeg: 5}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLikelyErrorOf30(b *testing.B) {
	set := benchSet(b)
	var sets []elements.Set
	for i := range 30 {
		s := set
		s.Epoch = s.Epoch.Add(time.Duration(i) * 12 * time.Hour)
		sets = append(sets, s)
	}
	for b.Loop() {
		if _, err := LikelyError(set, sets, set.Epoch); err != nil {
			b.Fatal(err)
		}
	}
}

package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
)

// launch is objects in a row on the track of EMBERLING, so many seconds apart,
// the first ones ahead.
func launch(t *testing.T, count int, apartS float64) []elements.Set {
	t.Helper()
	sets, faults := readElements([]string{"../../testdata/outing/emberling.tle"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	var all []elements.Set
	for k := range count {
		set := sets[0]
		set.Name, set.CatalogueNumber = fmt.Sprintf("OBJECT %d", k), 99100+k
		back := float64(k-count/2) * apartS * set.MeanMotionRevPerDay / 86400 * 360
		set.AnomalyDeg = track.Wrap360(set.AnomalyDeg - back)
		all = append(all, set)
	}
	return all
}

// listening is a simulated operator who has heard five bursts of one object.
type listening struct {
	lateSigmaS float64
	directions bool // they noted where the antenna was
	phase      bool // they know when bursts come
	measured   bool // they noted the frequency
}

// marks draws what was marked in a pass of an object: bursts spread over it, one
// at its peak. Pattern, detection and belief have no part in it.
func (l listening) marks(t *testing.T, rng *rand.Rand, set elements.Set, site track.Site) (marks []outing.Mark, first time.Time) {
	t.Helper()
	const beaconHz, lightKmS = 436.2e6, 299792.458
	orbit, err := track.NewOrbit(set)
	if err != nil {
		t.Fatal(err)
	}
	late := l.lateSigmaS * rng.NormFloat64()
	heading, offsetHz := 20*rng.NormFloat64(), 3000*rng.NormFloat64()
	passes, err := orbit.Passes(t.Context(), site, mustTime("2026-11-25T17:00:00Z"), mustTime("2026-11-25T23:00:00Z"), 5)
	if err != nil {
		t.Fatal(err)
	}
	var pass track.Pass
	for _, p := range passes {
		if p.Peak.ElevationDeg > pass.Peak.ElevationDeg {
			pass = p
		}
	}
	peak := pass.Peak.Time.Add(time.Duration(late * 1e9))
	first = peak.Add(time.Duration(float64(time.Second) * (10*rng.Float64() - 5)))
	for _, n := range []int{-6, -3, 0, 3, 6} { // 90 s apart, of a burst every 30 s
		at := first.Add(time.Duration(n) * 30 * time.Second)
		look, err := orbit.LookLate(site, at, late)
		if err != nil {
			t.Fatal(err)
		}
		if look.ElevationDeg < 1 {
			continue
		}
		mark := outing.Mark{At: at.Add(time.Duration((0.6 + 0.3*rng.NormFloat64()) * 1e9)).Round(time.Millisecond), Kind: outing.Heard}
		if l.measured {
			mark.FrequencyHz = beaconHz*(1-look.RangeRateKmS/lightKmS) + offsetHz + 300*rng.NormFloat64()
		}
		if l.directions {
			mark.Held = outing.Held{
				Known:        true,
				AzimuthDeg:   track.Wrap360(look.AzimuthDeg - heading + 8*rng.NormFloat64()),
				ElevationDeg: math.Min(90, math.Max(0, look.ElevationDeg+8*rng.NormFloat64())),
			}
		}
		marks = append(marks, mark)
	}
	return marks, first
}

// tally counts how often the likeliest object was the right one, and how often
// that was to be expected by the stated odds.
type tally struct {
	runs, right        int
	expected, variance float64
}

func (l listening) play(t *testing.T, runs int, apartS float64) (n tally) {
	t.Helper()
	site := track.Site{LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131}
	sets := launch(t, 40, apartS)
	rng := rand.New(rand.NewPCG(40, uint64(apartS)))
	var warned strings.Builder
	sys := testSystem(system{stderr: &warned})
	for range runs {
		truth := rng.IntN(len(sets))
		e := newErrorFlags()
		if err := e.time.Set(fmt.Sprintf("%vs", l.lateSigmaS)); err != nil {
			t.Fatal(err)
		}
		m := matching{group: group{members: sets, library: &library{sys: sys, files: sets}}, place: place{site: site}, prior: e.prior(config{}, nil), error: e}
		m.prior.Site, m.prior.Schedule.Period, m.prior.FrequencyHz = site, 30*time.Second, 436.2e6
		var first time.Time
		m.marks, first = l.marks(t, rng, sets[truth], site)
		if l.phase {
			m.prior.Schedule.First = first
		}
		all, _, err := sys.match(m, 0)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, one := range all {
			sum += one.probability
		}
		if len(all) != len(sets) || math.Abs(sum-1) > 1e-3 {
			t.Fatalf("the odds of %d objects sum up to %v", len(all), sum)
		}
		p := all[0].probability
		n.runs++
		n.expected += p
		n.variance += p * (1 - p)
		if all[0].set.CatalogueNumber == sets[truth].CatalogueNumber {
			n.right++
		}
	}
	t.Logf("%+v, %v s apart: right in %d of %d, to be expected by the odds %.1f", l, apartS, n.right, n.runs, n.expected)
	return n
}

// matchRuns is how many runs a test makes: few, or as many as RUNS says.
func matchRuns(few int) int {
	if n, err := strconv.Atoi(os.Getenv("RUNS")); err == nil && n > 0 {
		return n
	}
	return few
}

// Of 40 objects 90 s apart, whose elements are good to 5 s, the right one comes
// first (RUNS=200 for the full number).
func TestMatchFindsTheRightOne(t *testing.T) {
	for _, c := range []struct {
		listening
		runs int
	}{
		{listening{5, true, true, true}, 40},
		{listening{5, false, true, true}, 10},
		{listening{5, false, false, true}, 10},
	} {
		n := c.play(t, matchRuns(c.runs), 90)
		if float64(n.right) < 0.95*float64(n.runs) {
			t.Errorf("%+v: the right one first in %d of %d runs, want 95 %%", c.listening, n.right, n.runs)
		}
	}
}

// Where objects can't be told apart, the odds say so: the likeliest is right as
// often as stated. With RUNS=200: right in 72 where 62 were to be expected, 70
// where 62, and without frequencies 52 where 38.
func TestMatchOddsAreHonest(t *testing.T) {
	for _, l := range []listening{
		{40, true, true, true},
		{40, false, true, true},
		{40, true, true, false},
	} {
		n := l.play(t, matchRuns(20), 30)
		if off := math.Abs(float64(n.right) - n.expected); off > 2.5*math.Sqrt(n.variance)+0.05*float64(n.runs) {
			t.Errorf("%+v: right in %d of %d runs, %.1f were to be expected", l, n.right, n.runs, n.expected)
		}
		if n.expected > 0.9*float64(n.runs) {
			t.Errorf("%+v: states %.1f of %d, of what can't be told apart", l, n.expected, n.runs)
		}
	}
}

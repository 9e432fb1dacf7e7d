package track

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foreaim/track/elements"
)

// Sets without errors of an object that doesn't wander are one orbit: then what
// follows measures the errors that it puts in, and nothing else.
func TestHistoryWithoutErrors(t *testing.T) {
	h := newHistory(rand.New(rand.NewPCG(1, 2)), benchSet(t), 0, 20)
	first := orbit(t, h.set(0, 0, 0))
	for _, c := range []struct{ phase, rate float64 }{{0, 0}, {12, 0}, {-80, 0}} {
		later := orbit(t, h.set(10, -c.phase, c.rate))
		state, err := later.State(later.epoch)
		if err != nil {
			t.Fatal(err)
		}
		if late, ok := first.late(state, later.epoch); !ok || math.Abs(late-c.phase) > 0.01+0.001*math.Abs(c.phase) {
			t.Errorf("late by %.4f s (%t), want %v s", late, ok, c.phase)
		}
	}
}

// The stated σ is honest: of many objects with errors of different kinds and
// sizes, between 60 and 76 of 100 are within it. (A normal error is in 68.) The
// histories are invented, see history: no real object has been held against it.
func TestLikelyErrorIsHonest(t *testing.T) {
	base := benchSet(t)
	for name, c := range map[string]struct {
		wander, phase, rate float64 // s a day^1.5, s, s a day
		sets                int
		every, age          float64 // days
	}{
		"as usual":               {0.1, 0.15, 0.25, 20, 1, 1},
		"drag wanders":           {3, 0.3, 0.2, 20, 1, 1},
		"drag wanders, 3 days":   {3, 0.3, 0.2, 20, 1, 3},
		"poorly tracked":         {0.5, 2, 8, 20, 1, 1},
		"poorly tracked, 2 days": {0.5, 2, 8, 20, 1, 2},
		"half a day":             {2, 0.5, 2, 20, 1, 0.5},
		"well tracked":           {0.05, 0.1, 0.1, 25, 0.5, 1},
		"few sets":               {2, 0.3, 1, 6, 1, 1},
		"three sets":             {1, 0.3, 0.5, 3, 1, 1},
		"long ago":               {2, 0.3, 1, 8, 1, 10},
	} {
		t.Run(name, func(t *testing.T) {
			const objects = 400
			rng := rand.New(rand.NewPCG(7, uint64(len(name))))
			within := 0
			for range objects {
				h := newHistory(rng, base, c.wander, (float64(c.sets)+1)*c.every*1.5+c.age)
				var sets []elements.Set
				var day, phase, rate float64
				for range c.sets {
					day += c.every * (0.5 + rng.Float64())
					phase, rate = c.phase*rng.NormFloat64(), c.rate*rng.NormFloat64()
					sets = append(sets, h.set(day, phase, rate))
				}
				last := sets[len(sets)-1]
				l, err := LikelyError(last, sets, last.Epoch.Add(time.Duration(c.age*24*float64(time.Hour))))
				if err != nil {
					t.Fatal(err)
				}
				if l.Measured == 0 {
					t.Fatal("nothing measured")
				}
				if math.Abs(h.late(day, phase, rate, c.age)) < l.SigmaS {
					within++
				}
			}
			share := 100 * float64(within) / objects
			if share < 60 || share > 76 {
				t.Errorf("%.1f of 100 are within σ, want 60 to 76", share)
			}
		})
	}
}

// Without a history the number is the usual one: at epoch the floor's size, and
// growing with age and drag, also backwards.
func TestUsualError(t *testing.T) {
	set := invented(t)["INVENTED-1"]
	set.RevolutionNumber = 30_000
	at := func(set elements.Set, days float64) Likely {
		l, err := LikelyError(set, nil, set.Epoch.Add(time.Duration(days*24*float64(time.Hour))))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	// 0.5 to 1 km at epoch and 1 to 3 km a day more, at 7.6 km/s: see the
	// sources beside the constants.
	if s := at(set, 0).SigmaS; s < floorS || s > 1/7.6 {
		t.Errorf("σ at epoch %.3f s, want %v to %.3f s", s, floorS, 1/7.6)
	}
	calm := set
	calm.BStar = 0
	if s := at(calm, 2).SigmaS; s < 2/7.6 || s > 7/7.6 {
		t.Errorf("σ after 2 days %.3f s, want %.3f to %.3f s", s, 2/7.6, 7/7.6)
	}
	if a, b := at(set, -2).SigmaS, at(set, 2).SigmaS; math.Abs(a-b) > 1e-9 {
		t.Errorf("σ before the epoch %.3f s, after it %.3f s", a, b)
	}
	if a, b := at(set, 10).SigmaS, at(calm, 10).SigmaS; a <= b {
		t.Errorf("σ with drag %.3f s, without %.3f s, want more", a, b)
	}
	young := set
	young.RevolutionNumber, young.Designator = 60, young.Epoch.Format("2006")+"-901A"
	if l := at(young, 1); !l.Fresh || l.SigmaS < 5 || !strings.Contains(l.Words(), "after a launch") {
		t.Errorf("four days after a launch: %+v, %q", l, l.Words())
	}
	if l := at(young, 400); l.Fresh {
		t.Errorf("a year later it still counts as launched days ago: %+v", l)
	}
	young.Designator = "1998-901A" // the count has begun again
	if l := at(young, 1); l.Fresh {
		t.Errorf("an old object counts as launched days ago: %+v", l)
	}
}

// A fifth of the drag: over a day a low object gets ahead of one without drag
// by five times what is usual for drag. The propagator itself is the judge.
func TestUsualDragShare(t *testing.T) {
	set := benchSet(t)
	calm := orbit(t, set)
	set.BStar = 2e-4
	u, err := newUsualError(set)
	if err != nil {
		t.Fatal(err)
	}
	dragged := orbit(t, set)
	for _, days := range []float64{1, 3} {
		at := set.Epoch.Add(time.Duration(days * 24 * float64(time.Hour)))
		state, err := dragged.State(at)
		if err != nil {
			t.Fatal(err)
		}
		late, ok := calm.late(state, at)
		want := -u.dragSADay2 * days * days / dragShare
		if !ok || math.Abs(late-want) > 0.05*math.Abs(want) {
			t.Errorf("after %v days late by %.3f s (%t), want %.3f s", days, late, ok, want)
		}
	}
}

// The same set twice measures nothing, and a foreign set among them is left out.
func TestHistoryWithNothingInIt(t *testing.T) {
	set := benchSet(t)
	low := set
	low.Epoch, low.MeanMotionRevPerDay = low.Epoch.Add(-24*time.Hour), 16.9
	l, err := LikelyError(set, []elements.Set{set, set, low}, set.Epoch.Add(24*time.Hour))
	if err != nil || l.Measured != 0 {
		t.Errorf("%+v, %v, want nothing measured", l, err)
	}
	if _, err := LikelyError(low, nil, low.Epoch); !errors.Is(err, ErrLowPerigee) {
		t.Errorf("error %v, want %v", err, ErrLowPerigee)
	}
}

func TestLikelyWords(t *testing.T) {
	for want, l := range map[string]Likely{
		"give or take 0.4 s along its track, as is common for elements of this age":        {SigmaS: 0.42},
		"give or take 10 s along its track, as is common in the first days after a launch": {SigmaS: 9.96, Fresh: true},
		"give or take 2.1 s along its track, by one difference between its sets":           {SigmaS: 2.1, Measured: 1},
		"give or take 1 min 0 s along its track, by 12 differences between its sets":       {SigmaS: 59.6, Measured: 12},
		"give or take 2 h 0 min along its track, by 3 differences between its sets":        {SigmaS: 7199, Measured: 3, Fresh: true},
	} {
		if got := l.Words(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// At a peak the object crosses the line of sight: one second is its speed over
// its range, less what the Earth turns meanwhile.
func TestOffDegAtPeak(t *testing.T) {
	o := orbit(t, benchSet(t))
	passes, err := o.Passes(t.Context(), benchSite, o.epoch, o.epoch.Add(24*time.Hour), 10)
	if err != nil || len(passes) == 0 {
		t.Fatalf("%d passes, %v", len(passes), err)
	}
	for _, p := range passes {
		off, err := o.OffDeg(benchSite, p.Peak.Time, 1)
		if err != nil {
			t.Fatal(err)
		}
		s, err := o.State(p.Peak.Time)
		if err != nil {
			t.Fatal(err)
		}
		want := norm(s.VelocityKmS) / p.Peak.RangeKm * 180 / math.Pi
		if math.Abs(off-want) > 0.08*want {
			t.Errorf("peak at %.0f°: %.4f° off by one second, want %.4f°", p.Peak.ElevationDeg, off, want)
		}
	}
}

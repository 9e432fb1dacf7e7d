package aim

import (
	"errors"
	"math"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

var rise = time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)

// mover goes along the horizon's 20° line at a steady pace, from north over
// east: simple enough to know by hand where it is.
type mover struct{ degPerS float64 }

func (m mover) Look(_ track.Site, t time.Time) (track.Look, error) {
	return track.Look{
		Time:         t,
		AzimuthDeg:   track.Wrap360(350 + m.degPerS*t.Sub(rise).Seconds()),
		ElevationDeg: 20,
		RangeKm:      1000,
	}, nil
}

func passOf(o Looker, d time.Duration) track.Pass {
	var p track.Pass
	p.Rise, _ = o.Look(track.Site{}, rise)
	p.Peak, _ = o.Look(track.Site{}, rise.Add(d/2))
	p.Set, _ = o.Look(track.Site{}, rise.Add(d))
	return p
}

func TestPlanHoldsStandWhereTheBurstsAre(t *testing.T) {
	o := mover{1}
	s := Settings{
		Schedule: beacon.Schedule{Period: 30 * time.Second, First: rise.Add(-50 * time.Second),
			Length: 2 * time.Second, Tolerance: 500 * time.Millisecond},
		BeamwidthDeg: 50,
		Clock:        300 * time.Millisecond,
	}
	plan, err := PlanPass(o, track.Site{}, passOf(o, 3*time.Minute), rise, s)
	if err != nil {
		t.Fatal(err)
	}
	// Bursts 10, 40, 70, 100, 130 and 160 s after the rise.
	if !plan.BurstsKnown || len(plan.Holds) != 6 {
		t.Fatalf("%d holds, bursts known: %v", len(plan.Holds), plan.BurstsKnown)
	}
	for i, h := range plan.Holds {
		after := time.Duration(10+30*i) * time.Second
		if h.Number != i+1 || !h.Burst || !h.At.Equal(rise.Add(after)) ||
			!h.Ready.Equal(h.At.Add(-1300*time.Millisecond)) || !h.Until.Equal(h.At.Add(3300*time.Millisecond)) {
			t.Errorf("hold %d: %+v", i, h)
		}
		if want := track.Wrap360(350 + after.Seconds()); math.Abs(h.AzimuthDeg-want) > 1e-9 || h.ElevationDeg != 20 {
			t.Errorf("hold %d points at %+v, want azimuth %g°", i, h.Direction, want)
		}
	}
}

func TestMomentMovesOnWhenTheBurstHasPassed(t *testing.T) {
	o := mover{1}
	s := Settings{Schedule: beacon.Schedule{Period: 30 * time.Second, First: rise.Add(10 * time.Second), Length: 2 * time.Second}}
	plan, err := PlanPass(o, track.Site{}, passOf(o, 90*time.Second), rise, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		afterS     float64
		last, next int // numbers; 0: none
		now        bool
	}{
		{-100, 0, 1, false}, {0, 0, 1, false}, {9.9, 0, 1, false}, {10, 0, 1, true}, {11.9, 0, 1, true},
		{12, 1, 2, false}, {41, 1, 2, true}, {42, 2, 3, false}, {72, 3, 0, false},
	} {
		m := plan.At(rise.Add(time.Duration(c.afterS * float64(time.Second))))
		number := func(h *Hold) int {
			if h == nil {
				return 0
			}
			return h.Number
		}
		if number(m.Last) != c.last || number(m.Next) != c.next || m.Now != c.now {
			t.Errorf("after %g s: last %d, next %d, now %v; want %+v", c.afterS, number(m.Last), number(m.Next), m.Now, c)
		}
	}
}

// Without a phase the holds follow each other without a gap, and the object is
// never further from the aim than a quarter of the beamwidth, nor is a hold
// too short for a hand.
func TestSweepKeepsTheObjectInTheBeam(t *testing.T) {
	for _, pace := range []float64{0.02, 0.3, 1.1} {
		o := mover{pace}
		pass := passOf(o, 8*time.Minute)
		plan, err := PlanPass(o, track.Site{}, pass, rise, Settings{Schedule: beacon.Schedule{Period: 30 * time.Second}, BeamwidthDeg: 40})
		if err != nil {
			t.Fatal(err)
		}
		if plan.BurstsKnown {
			t.Error("claims to know the bursts")
		}
		from := pass.Rise.Time
		for _, h := range plan.Holds {
			if !h.Ready.Equal(from) || h.Until.Sub(h.Ready) < shortestHold || h.Burst {
				t.Errorf("pace %g: hold %+v after %v", pace, h, from)
			}
			for at := h.Ready; !at.After(h.Until); at = at.Add(time.Second) {
				l, _ := o.Look(track.Site{}, at)
				if off := h.OffDeg(Direction{l.AzimuthDeg, l.ElevationDeg}); off > 10.5 {
					t.Errorf("pace %g: %g° off at %v", pace, off, at)
				}
			}
			from = h.Until
		}
		if !from.Equal(pass.Set.Time) {
			t.Errorf("pace %g: the plan ends at %v, the pass at %v", pace, from, pass.Set.Time)
		}
	}
}

// A pass of days is planned around the present only, with numbers that don't
// depend on when it was planned.
func TestLongPassIsPlannedAroundNow(t *testing.T) {
	o := mover{0}
	pass := passOf(o, 72*time.Hour)
	s := Settings{Schedule: beacon.Schedule{Period: 30 * time.Second, First: rise}}
	now := rise.Add(50 * time.Hour)
	plan, err := PlanPass(o, track.Site{}, pass, now, s)
	if err != nil {
		t.Fatal(err)
	}
	m := plan.At(now)
	if len(plan.Holds) != maxHolds || m.Last == nil || m.Next == nil || m.Next.Number != 50*120+1 {
		t.Errorf("%d holds, now %+v after %+v", len(plan.Holds), m.Next, m.Last)
	}
}

type broken struct{}

var errGone = errors.New("gone")

func (broken) Look(track.Site, time.Time) (track.Look, error) { return track.Look{}, errGone }

func TestPlanTellsWhatWentWrong(t *testing.T) {
	pass := passOf(mover{1}, time.Minute)
	for _, s := range []Settings{{BeamwidthDeg: 50}, {Schedule: beacon.Schedule{Period: time.Second, First: rise}}} {
		if _, err := PlanPass(broken{}, track.Site{}, pass, rise, s); !errors.Is(err, errGone) {
			t.Errorf("error %v", err)
		}
	}
}

package world

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// The satellites are where the truth has them, late on their elements, and that is
// likely by what the elements tell: within two standard deviations.
func TestSatellitesAreLikelyLate(t *testing.T) {
	w, err := New(context.Background(), time.Date(2027, 2, 25, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range w.Satellites {
		at := w.Start.Add(5 * time.Minute)
		l, err := track.LikelyError(s.Set, nil, at)
		if err != nil || math.Abs(s.LateS) > 2*l.SigmaS || s.LateS == 0 {
			t.Errorf("%s is %g s late, likely %+v, %v", s.Set.Name, s.LateS, l, err)
		}
		b, err := w.NextBurst(i, at)
		if err != nil {
			t.Fatal(err)
		}
		// The elements have it there later, while the site turns on a little.
		then, err := s.Orbit.Look(w.Site, b.Time.Add(-time.Duration(s.LateS*float64(time.Second))))
		if err != nil {
			t.Fatal(err)
		}
		if off := track.SeparationDeg(b.Look.AzimuthDeg, b.Look.ElevationDeg, then.AzimuthDeg, then.ElevationDeg); off > math.Abs(s.LateS)*0.06+0.01 {
			t.Errorf("%s is %.2f° from where it was %g s before", s.Set.Name, off, s.LateS)
		}
	}
}

// A burst comes in weaker the further the boom is off it: by 3 dB at half the
// beam's width, which is what a half-power width means.
func TestTheBoomMatters(t *testing.T) {
	w := &World{FacingDeg: 100}
	b := Burst{MarginDB: 12, Look: track.Look{AzimuthDeg: 120, ElevationDeg: 0}}
	for right, want := range map[float64]float64{20: 12, 45: 9, -5: 9, 200: -8} {
		if got := w.HeardWith(b, Boom{RightDeg: right}).MarginDB; math.Abs(got-want) > 1e-6 {
			t.Errorf("held %g° to the right: %g dB, want %g", right, got, want)
		}
	}
}

// What is heard depends on where the boom was when the burst came.
func TestTheEarKeepsWhatItHeard(t *testing.T) {
	w, err := New(context.Background(), time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	b, err := w.NextBurst(0, w.Start.Add(3*time.Minute))
	for err == nil && !(b.Audible() && b.MarginDB < 12) {
		b, err = w.NextBurst(0, b.Time.Add(1))
	}
	if err != nil {
		t.Fatal(err)
	}
	on, away := &Boom{b.Look.AzimuthDeg - w.FacingDeg, b.Look.ElevationDeg}, &Boom{b.Look.AzimuthDeg - w.FacingDeg + 180, 0}
	for _, c := range []struct {
		before, after *Boom
		heard         bool
	}{{on, away, true}, {away, on, false}, {nil, on, false}, {on, nil, true}} {
		ear := Ear{World: w}
		ear.Listen(b.Time.Add(-time.Second), c.before)
		for after := time.Duration(0); after < 3*time.Second; after += 100 * time.Millisecond {
			if said := ear.Listen(b.Time.Add(after), c.after); strings.Contains(said, "beep") != c.heard {
				t.Errorf("held %v, then %v: %q %v after the burst", c.before, c.after, said, after)
			}
		}
	}
}

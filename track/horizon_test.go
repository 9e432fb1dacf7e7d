package track

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"
)

// wall is a skyline: so high from one azimuth to another, else level.
func wall(heightDeg, fromDeg, toDeg float64) Horizon {
	return Horizon{SkylineDeg: func(azimuthDeg float64) float64 {
		if azimuthDeg >= fromDeg && azimuthDeg <= toDeg {
			return heightDeg
		}
		return 0
	}}
}

func over10Days(t *testing.T, o *Orbit, site Site, h Horizon) []Pass {
	t.Helper()
	passes, err := o.PassesOver(context.Background(), site, o.epoch, o.epoch.Add(240*time.Hour), h)
	if err != nil {
		t.Fatal(err)
	}
	return passes
}

// A wall across the middle of each pass hides the pass there and nowhere else.
func TestWallInMidPass(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	walled := 0
	for _, open := range search10Days(t, o, benchSite, 0) {
		a := Wrap360(open.Peak.AzimuthDeg - 10)
		b := a + 20
		rise, set := TurnDeg(open.Peak.AzimuthDeg, open.Rise.AzimuthDeg), TurnDeg(open.Peak.AzimuthDeg, open.Set.AzimuthDeg)
		if b >= 360 || math.Abs(rise) < 15 || math.Abs(set) < 15 || open.Peak.ElevationDeg > 70 {
			continue
		}
		walled++
		got, err := o.PassesOver(context.Background(), benchSite, open.Peak.Time, open.Peak.Time, wall(89, a, b))
		if err != nil || len(got) != 1 {
			t.Fatalf("pass of %s: %+v, %v", open.Peak.Time, got, err)
		}
		p := got[0]
		if len(p.Hidden) != 1 || len(p.InSight()) != 2 || !p.IsHidden(open.Peak.Time) || p.IsHidden(p.Rise.Time) || p.IsHidden(p.Set.Time) {
			t.Errorf("pass of %s: hidden %v", open.Peak.Time, p.Hidden)
			continue
		}
		if d := max(p.Rise.Time.Sub(open.Rise.Time).Abs(), p.Set.Time.Sub(open.Set.Time).Abs()); d > 2*time.Millisecond {
			t.Errorf("pass of %s: rise and set moved by %v", open.Peak.Time, d)
		}
		for _, edge := range []time.Time{p.Hidden[0].From, p.Hidden[0].To} {
			look, err := o.Look(benchSite, edge)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(math.Abs(TurnDeg(open.Peak.AzimuthDeg, look.AzimuthDeg)) - 10); off > 0.01 {
				t.Errorf("pass of %s: hidden until %.3f°, %.3f° off the wall", open.Peak.Time, look.AzimuthDeg, off)
			}
		}
		if !p.Peak.Time.Equal(p.Hidden[0].From) && !p.Peak.Time.Equal(p.Hidden[0].To) {
			t.Errorf("pass of %s: peak at %s, want an end of %v", open.Peak.Time, p.Peak.Time, p.Hidden)
		}
		if p.Equal(open) || !p.Equal(got[0]) {
			t.Errorf("pass of %s: equal is wrong", open.Peak.Time)
		}
	}
	if walled < 20 {
		t.Errorf("only %d passes with a wall", walled)
	}
}

// A wall all round leaves nothing; what returns less than the lowest, or
// nothing, is taken as said.
func TestOddHorizons(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	if passes := over10Days(t, o, benchSite, wall(90, 0, 360)); len(passes) != 0 {
		t.Errorf("behind a wall: %+v", passes)
	}
	liar := Horizon{LowestDeg: 20, SkylineDeg: func(float64) float64 { return -80 }}
	want := search10Days(t, o, benchSite, 20)
	if got := over10Days(t, o, benchSite, liar); len(got) != len(want) || len(got) < 5 {
		t.Errorf("lower than its lowest: %d passes, want %d", len(got), len(want))
	}
	unknown := Horizon{SkylineDeg: func(float64) float64 { return math.NaN() }}
	if got := over10Days(t, o, benchSite, unknown); len(got) != 0 {
		t.Errorf("an unknown skyline: %d passes, want none", len(got))
	}
}

// A still object in sight is always up; one behind a house never is.
func TestStillBehindHouse(t *testing.T) {
	o := orbit(t, madeSet("STILL", 1.00273, 0.0001, 0.02, 0, 0, 0))
	below, err := o.Ground(o.epoch)
	if err != nil {
		t.Fatal(err)
	}
	site := Site{LatitudeDeg: 40, LongitudeDeg: below.LongitudeDeg} // it stands in the south
	for _, c := range []struct {
		name     string
		from, to float64
		want     int
	}{{"in the north", 0, 90, 1}, {"in the south", 150, 210, 0}} {
		got := over10Days(t, o, site, wall(60, c.from, c.to))
		if len(got) != c.want || c.want == 1 && (!got[0].AlwaysUp || got[0].Duration() != 240*time.Hour) {
			t.Errorf("a house %s: %+v, want %d", c.name, got, c.want)
		}
	}
	// One that goes to and fro across the edge of a house is not always up.
	o = orbit(t, madeSet("SWINGING", 1.00273, 0.0001, 20, 0, 0, 0))
	got := over10Days(t, o, site, wall(89, 0, 180))
	if len(got) != 1 || got[0].AlwaysUp || len(got[0].Hidden) < 9 {
		t.Errorf("to and fro: %+v", got)
	}
}

func TestPassesOverRefuses(t *testing.T) {
	o := orbit(t, invented(t)["INVENTED-1"])
	day := o.epoch.Add(24 * time.Hour)
	if _, err := o.PassesOver(context.Background(), benchSite, o.epoch, day, Horizon{LowestDeg: 91, SkylineDeg: func(float64) float64 { return 91 }}); err == nil || !strings.Contains(err.Error(), "minimum elevation 91 is outside -90 to 90") {
		t.Errorf("too high: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	looks := 0
	until := Horizon{SkylineDeg: func(float64) float64 {
		if looks++; looks == 100 {
			cancel()
		}
		return 0
	}}
	if _, err := o.PassesOver(ctx, benchSite, o.epoch, day, until); !errors.Is(err, context.Canceled) || looks != 100 {
		t.Errorf("cancelled: %v after %d looks", err, looks)
	}
}

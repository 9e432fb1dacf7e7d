package radio

import (
	"math"
	"math/rand/v2"
	"testing"

	"foreaim/track/radio/internal/invent"
)

// flat makes a sweep of 0.1 MHz steps from 450 MHz: a floor of -90 with noise of
// 30 looks, and -60 between each two frequencies.
func flat(points int, edgesMHz ...float64) Sweep {
	r := rand.New(rand.NewPCG(3, 4))
	var s Sweep
	for i := range points {
		p := Point{450 + 0.1*float64(i), invent.Noisy(r, -90, 30)}
		for k := 0; k+1 < len(edgesMHz); k += 2 {
			if p.MHz > edgesMHz[k] && p.MHz < edgesMHz[k+1] {
				p.Level += 30
			}
		}
		s.Points = append(s.Points, p)
	}
	return s
}

func TestOccupiedAtTheEndsOfASweep(t *testing.T) {
	got := flat(600, 440, 455.05, 480.05, 488.05, 505.05, 520).Occupied()
	if len(got.Bands) != 3 || !got.Bands[0].OpenLow || got.Bands[0].OpenHigh || got.Bands[1].OpenLow || got.Bands[1].OpenHigh || !got.Bands[2].OpenHigh {
		t.Fatalf("%+v", got.Bands)
	}
	near(t, "end of the first", got.Bands[0].HighMHz, 455.05, 0.01)
	near(t, "start of the last", got.Bands[2].LowMHz, 505.05, 0.01)
	// 80 points of -60 add up to -60 + 19.03.
	near(t, "level of all of it", got.Bands[1].Level, -40.97, 0.3)
	near(t, "its points", got.Bands[1].TopLevel, -60, 0.5)
	near(t, "over the floor", got.Bands[1].OverFloorDB, 30, 1)
	near(t, "noise of a point", got.NoiseDB, 10/math.Ln10/math.Sqrt(30), 0.15) // the gamma distribution's
	near(t, "step", got.StepMHz, 0.1, 1e-9)
}

// Most of a sweep may be occupied; nothing is found where nothing is, and on
// both sides of a hole.
func TestOccupiedMuchNothingAndHoles(t *testing.T) {
	much := flat(1000, 470.05, 535.05).Occupied() // 65 of 100 MHz
	if len(much.Bands) != 1 {
		t.Fatalf("%+v", much.Bands)
	}
	near(t, "start", much.Bands[0].LowMHz, 470.05, 0.1)
	near(t, "end", much.Bands[0].HighMHz, 535.05, 0.1)
	if none := flat(1000).Occupied(); len(none.Bands) != 0 || len(none.Lines) != 0 {
		t.Errorf("%+v", none)
	}
	holed := flat(1000, 460.05, 468.05, 520.05, 528.05)
	holed.Points = append(holed.Points[:300:300], holed.Points[500:]...)
	if o := holed.Occupied(); len(o.Bands) != 2 || o.Bands[0].OpenHigh || o.Bands[1].OpenLow {
		t.Errorf("%+v", o.Bands)
	}
	if few := flat(31, 451.05, 452.05).Occupied(); len(few.Bands) != 0 {
		t.Errorf("%+v", few)
	}
}

// A slope is followed however steep, and single points are lines.
func TestFloorFollowsASlope(t *testing.T) {
	s := flat(800, 480.05, 490.05)
	for i := range s.Points {
		s.Points[i].Level -= 0.05 * float64(i) // 40 dB in all
	}
	s.Points[100].Level += 25
	o := s.Occupied()
	if len(o.Bands) != 1 || len(o.Lines) != 1 || o.Lines[0].MHz != 460 {
		t.Fatalf("%+v", o)
	}
	near(t, "start", o.Bands[0].LowMHz, 480.05, 0.1)
	near(t, "end", o.Bands[0].HighMHz, 490.05, 0.1)
}

// Of very many bands only the strongest are looked at, in their order.
func TestStrongest(t *testing.T) {
	var all []Band
	for i := range 1000 {
		all = append(all, Band{LowMHz: float64(i), Level: float64(i * 7919 % 1000)})
	}
	got := strongest(all, 200)
	if len(got) != 200 {
		t.Fatal(len(got))
	}
	for i, b := range got {
		if b.Level < 800 || i > 0 && b.LowMHz <= got[i-1].LowMHz {
			t.Errorf("%+v", b)
		}
	}
}

func BenchmarkOccupied100k(b *testing.B) {
	s := flat(100_000, 500.05, 524.05, 5000.05, 5008.05)
	for b.Loop() {
		if len(s.Occupied().Bands) != 2 {
			b.Fatal(s.Occupied().Bands)
		}
	}
}

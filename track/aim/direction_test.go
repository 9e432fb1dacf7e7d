package aim

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"foreaim/track"
)

func direction(t *rapid.T, name string) Direction {
	return Direction{
		AzimuthDeg:   rapid.Float64Range(0, 359.999).Draw(t, name+" azimuth"),
		ElevationDeg: rapid.Float64Range(-5, 90).Draw(t, name+" elevation"),
	}
}

// A circle's points are all at the radius, whatever the direction, the zenith
// included.
func TestCircleIsACircleOnTheSphere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := direction(t, "centre")
		radius := rapid.Float64Range(1, 60).Draw(t, "radius")
		for i, p := range d.Circle(radius, 24) {
			got := track.SeparationDeg(d.AzimuthDeg, d.ElevationDeg, p.AzimuthDeg, p.ElevationDeg)
			if math.Abs(got-radius) > 1e-6 {
				t.Fatalf("point %d of the circle of %g° around %+v is %+v, %g° away", i, radius, d, p, got)
			}
		}
	})
}

// At elevation 60° a circle of 10° reaches asin(sin 10° / cos 60°) = 20.32° to
// either side (Napier's rules for the right spherical triangle).
func TestCircleIsWideNearTheTop(t *testing.T) {
	widest := 0.0
	for _, p := range (Direction{100, 60}).Circle(10, 3600) {
		widest = max(widest, math.Abs(track.TurnDeg(100, p.AzimuthDeg)))
	}
	want := math.Asin(math.Sin(10*math.Pi/180)/math.Cos(60*math.Pi/180)) * 180 / math.Pi
	if math.Abs(widest-want) > 0.001 {
		t.Errorf("widest turn %g°, want %g°", widest, want)
	}
}

func TestStepTakesTheShorterWay(t *testing.T) {
	for _, c := range []struct {
		from, to Direction
		want     Step
	}{
		{Direction{350, 10}, Direction{10, 25}, Step{20, 15}},
		{Direction{10, 25}, Direction{350, 10}, Step{-20, -15}},
		{Direction{0, 0}, Direction{180, 0}, Step{180, 0}},
		{Direction{90, 45}, Direction{90, 45}, Step{0, 0}},
	} {
		if got := c.from.StepTo(c.to); got != c.want {
			t.Errorf("from %v to %v: %v, want %v", c.from, c.to, got, c.want)
		}
	}
}

// A step taken leads to where it says.
func TestStepLeadsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := direction(t, "from"), direction(t, "to")
		s := from.StepTo(to)
		if s.TurnDeg <= -180 || s.TurnDeg > 180 {
			t.Fatalf("turn of %g°", s.TurnDeg)
		}
		off := track.SeparationDeg(from.AzimuthDeg+s.TurnDeg, from.ElevationDeg+s.UpDeg, to.AzimuthDeg, to.ElevationDeg)
		if off > 1e-6 {
			t.Fatalf("%v by %v misses %v by %g°", from, s, to, off)
		}
	})
}

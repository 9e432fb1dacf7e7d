package track

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAngleProperties(t *testing.T) {
	angle := rapid.Float64Range(-1e4, 1e4)
	rapid.Check(t, func(t *rapid.T) {
		a, b := angle.Draw(t, "a"), angle.Draw(t, "b")
		if w := Wrap360(a); w < 0 || w >= 360 || math.Abs(math.Remainder(w-a, 360)) > 1e-9 {
			t.Fatalf("Wrap360(%v) = %v", a, w)
		}
		turn := TurnDeg(a, b)
		if turn <= -180 || turn > 180 || math.Abs(math.Remainder(a+turn-b, 360)) > 1e-9 {
			t.Fatalf("TurnDeg(%v, %v) = %v", a, b, turn)
		}
	})
}

// Against the angle between unit vectors.
func TestSeparation(t *testing.T) {
	vector := func(azimuth, elevation float64) Vector {
		sinA, cosA := math.Sincos(azimuth * math.Pi / 180)
		sinE, cosE := math.Sincos(elevation * math.Pi / 180)
		return Vector{cosE * cosA, cosE * sinA, sinE}
	}
	azimuth, elevation := rapid.Float64Range(0, 360), rapid.Float64Range(-90, 90)
	rapid.Check(t, func(t *rapid.T) {
		a1, e1 := azimuth.Draw(t, "a1"), elevation.Draw(t, "e1")
		a2, e2 := azimuth.Draw(t, "a2"), elevation.Draw(t, "e2")
		u, v := vector(a1, e1), vector(a2, e2)
		want := math.Atan2(norm(cross(u, v)), dot(u, v)) * 180 / math.Pi
		if got := SeparationDeg(a1, e1, a2, e2); math.Abs(got-want) > 1e-6 || math.Abs(got-SeparationDeg(a2, e2, a1, e1)) > 1e-12 {
			t.Fatalf("SeparationDeg(%v, %v, %v, %v) = %v, want %v", a1, e1, a2, e2, got, want)
		}
	})
}

func TestAngleCases(t *testing.T) {
	for _, c := range []struct{ from, to, want float64 }{
		{350, 10, 20}, {10, 350, -20}, {0, 180, 180}, {180, 0, 180}, {90, 90, 0}, {-10, 370, 20}, {0, -1e-20, 0},
	} {
		if got := TurnDeg(c.from, c.to); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("TurnDeg(%v, %v) = %v, want %v", c.from, c.to, got, c.want)
		}
	}
	if got := Wrap360(-1e-20); got != 0 {
		t.Errorf("Wrap360(-1e-20) = %v, want 0", got)
	}
}

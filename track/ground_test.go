package track

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// The shadow against walking along the line to the sun and looking whether any
// point of it is under the ellipsoid.
func TestShadowAgainstWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	dark, bright := 0, 0
	for range 3000 {
		at := time.Unix(1767225600+r.Int64N(4*365*86400), 0)
		sun := Sun(at)
		z, turn := 2*r.Float64()-1, 2*math.Pi*r.Float64()
		flat := math.Sqrt(1 - z*z)
		position := scale(Vector{flat * math.Cos(turn), flat * math.Sin(turn), z}, 6378.137+300+r.Float64()*3000)
		toSun := scale(sun, 1/norm(sun))
		lowest := math.Inf(1)
		for along := 0.0; along < 15000; along += 10 {
			p := Vector{position[0] + along*toSun[0], position[1] + along*toSun[1], position[2] + along*toSun[2]}
			_, _, height := Geodetic(p)
			lowest = math.Min(lowest, height)
		}
		if math.Abs(lowest) < 1 { // the walk's own error: steps, and the sun not at infinity
			continue
		}
		got := sunlit(position, sun)
		if got != (lowest > 0) {
			t.Fatalf("sunlit %v at %v, but the line to the sun has its lowest point at %.1f km", got, position, lowest)
		}
		if got {
			bright++
		} else {
			dark++
		}
	}
	if dark < 500 || bright < 500 {
		t.Errorf("%d dark, %d bright: not both tested", dark, bright)
	}
}

// The point below is where the object stands in the zenith.
func TestGroundIsBelow(t *testing.T) {
	for name, set := range invented(t) {
		o := orbit(t, set)
		for i := range 200 {
			at := o.epoch.Add(time.Duration(i) * 1111 * time.Second)
			g, err := o.Ground(at)
			if err != nil {
				t.Fatal(err)
			}
			look, err := o.Look(Site{LatitudeDeg: g.LatitudeDeg, LongitudeDeg: g.LongitudeDeg}, at)
			if err != nil {
				t.Fatal(err)
			}
			if look.ElevationDeg < 89.9999 || math.Abs(look.RangeKm-g.AltitudeKm) > 1e-5 {
				t.Errorf("%s at %s: %+v is not below: %+v", name, at, g, look)
			}
		}
	}
}

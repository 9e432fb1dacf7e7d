package landscape

import (
	"encoding/binary"
	"math"
	"testing"

	"foreaim/track"
)

// Distances against lines on the ellipsoid (track.Site.Bearing, itself checked
// with GeographicLib).
func TestMetres(t *testing.T) {
	from := track.Site{LatitudeDeg: 58.3, LongitudeDeg: 179.9}
	for azimuth := 0.0; azimuth < 360; azimuth += 15 {
		sin, cos := math.Sincos(azimuth * math.Pi / 180)
		to := track.Site{LatitudeDeg: 58.3 + 0.1*cos, LongitudeDeg: math.Remainder(179.9+0.2*sin, 360)}
		bearing, want, err := from.Bearing(to)
		if err != nil {
			t.Fatal(err)
		}
		east, north := metres(from.LatitudeDeg, from.LongitudeDeg, to.LatitudeDeg, to.LongitudeDeg)
		if got := math.Hypot(east, north); math.Abs(got-want) > 1 {
			t.Errorf("%v°: %v m, want %v", azimuth, got, want)
		}
		if off := math.Remainder(math.Atan2(east, north)*180/math.Pi-bearing, 360); math.Abs(off) > 0.1 {
			t.Errorf("%v°: off by %v°", azimuth, off)
		}
	}
}

// Worked by hand; a degree of latitude is 111.4 km at 58.5° (WGS-84).
func TestShapes(t *testing.T) {
	const lat, lon = 58.5, 14.5
	km := 1 / 111.4 // of latitude, in degrees
	for _, c := range []struct {
		name                string
		shape               Shape
		north, want, within float64
	}{
		{"level", Level(12), 3, 12, 0},
		{"slope", Slope(lat, lon, 0, 0.1), 2, 200, 1},
		{"slope down", Slope(lat, lon, 180, 0.1), 2, -200, 1},
		{"cone's tip", Cone(lat, lon, 300, 2000), 0, 300, 0},
		{"cone", Cone(lat, lon, 300, 2000), 1, 150, 1},
		{"beyond the cone", Cone(lat, lon, 300, 2000), 2.1, 0, 0},
		{"dome's top", Dome(lat, lon, 300, 2000), 0, 300, 1e-6},
		{"dome", Dome(lat, lon, 300, 2000), 1, 226, 1}, // r = 6816.7 m: √(r²-1000²)-r+300
		{"beyond the dome", Dome(lat, lon, 300, 2000), 2.1, 0, 0},
		{"along the ridge", Ridge(lat, lon, 0, 300, 2000, 5000), 4, 300, 1e-6},
		{"across the ridge", Ridge(lat, lon, 90, 300, 2000, 5000), 1, 150, 1},
		{"behind its end", Ridge(lat, lon, 0, 300, 2000, 5000), 6, 150, 1},
		{"highest", Highest(Level(12), Cone(lat, lon, 300, 2000)), 3, 12, 0},
		{"sum", Sum(Level(12), Cone(lat, lon, 300, 2000)), 1, 162, 1},
	} {
		if got, _ := c.shape.HeightM(lat+c.north*km, lon); math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	lowest, highest := 0.0, 0.0
	hills := Rolling(80, 5)
	for i := range 5000 {
		h := hills(58+float64(i)*1e-3, 14)
		lowest, highest = min(lowest, h), max(highest, h)
		if step := math.Abs(h - hills(58+float64(i)*1e-3+1e-5, 14)); step > 0.2 {
			t.Fatalf("a step of %v in 1.1 m", step)
		}
	}
	if highest > 80 || highest < 40 || lowest < -80 || lowest > -40 {
		t.Errorf("hills from %v to %v", lowest, highest)
	}
}

func TestTile(t *testing.T) {
	raw := Tile(func(lat, lon float64) float64 {
		if lat == 59 && lon == 14 {
			return math.NaN()
		}
		return 1000*(lat-58) + 10*(lon-14)
	}, 58, 14, 1201)
	if len(raw) != 1201*1201*2 {
		t.Fatal(len(raw))
	}
	for _, c := range []struct{ at, want int }{{0, -32768}, {1200, 1010}, {1201 * 1200, 0}, {1201*1201 - 1, 10}, {600*1201 + 600, 505}} {
		if got := int16(binary.BigEndian.Uint16(raw[2*c.at:])); int(got) != c.want {
			t.Errorf("sample %d: %d, want %d", c.at, got, c.want)
		}
	}
}

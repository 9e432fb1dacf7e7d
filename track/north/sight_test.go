package north

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// The stated uncertainty against sticks that lean at random, their shadows
// drawn in space from a random point of the light's width, and the boom laid
// along them by a shaky hand.
func TestSightUncertaintyAgainstSticks(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, elevation := range []float64{2, 30, 55, 70, 76} {
		const draws = 20000
		squares := 0.0
		for range draws {
			// The light stands north of the foot of the stick, moved along the
			// great circle across.
			aside := (r.Float64() - 0.5) * sunDiscDeg * rad
			sin, cos := math.Sincos(elevation * rad)
			light := track.Vector{math.Sin(aside), math.Cos(aside) * cos, math.Cos(aside) * sin} // east, north, up
			top := track.Vector{math.Tan(r.NormFloat64() * plumbDeg * rad), math.Tan(r.NormFloat64() * plumbDeg * rad), 1}
			east, north := top[0]-light[0]/light[2], top[1]-light[1]/light[2]
			off := math.Atan2(-east, -north)/rad + r.NormFloat64()*readingDeg
			squares += off * off
		}
		got, want := sightUncertaintyDeg(elevation, sunDiscDeg), math.Sqrt(squares/draws)
		if !(math.Abs(got/want-1) <= 0.05) {
			t.Errorf("light %g° up: stated %.2f°, sticks give %.2f°", elevation, got, want)
		}
	}
}

// A shadow falls opposite the sun and is as long as the stick at 45° and √3
// times with the light 30° up.
func TestShadow(t *testing.T) {
	s := shadow(Body{AzimuthDeg: 200, SeenElevationDeg: 30}, "")
	compare(t, 0, []check{
		{"azimuth", s.AzimuthDeg, 20, 1e-9},
		{"length", s.LengthM, math.Sqrt(3), 1e-9},
		{"length at 45°", shadow(Body{SeenElevationDeg: 45}, "").LengthM, 1, 1e-9},
		{"length at 90°", shadow(Body{SeenElevationDeg: 90}, "").LengthM, 0, 1e-9},
	})
	if down := shadow(Body{SeenElevationDeg: -3}, ""); !math.IsInf(down.LengthM, 1) {
		t.Errorf("length %g m with the light down, want +Inf", down.LengthM)
	}
}

// below returns the site that has the sun in its zenith. At the pole, north is
// taken along the meridian of the site, so azimuth 0 there looks at 180° E.
func below(t *testing.T, at time.Time) track.Site {
	t.Helper()
	sun, err := Sun(at, track.Site{LatitudeDeg: 90})
	if err != nil {
		t.Fatal(err)
	}
	site := track.Site{LatitudeDeg: sun.ElevationDeg, LongitudeDeg: 180 - sun.AzimuthDeg}
	if sun, err = Sun(at, site); err != nil || sun.ElevationDeg < 89.99 {
		t.Fatalf("the sun is %.3f° up at %+v, want 90° (%v)", sun.ElevationDeg, site, err)
	}
	return site
}

// What the sky offers by day, by night, in the twilight, at the poles and with
// the sun in the zenith, and what is said when it offers nothing.
func TestRefusals(t *testing.T) {
	noon := time.Date(2027, 3, 4, 12, 0, 0, 0, time.UTC)
	north52, south33 := track.Site{LatitudeDeg: 51.5, LongitudeDeg: -0.12}, track.Site{LatitudeDeg: -33.9, LongitudeDeg: 18.4}
	sunShadow := func(at time.Time, s track.Site) (Sight, error) { v, err := SunShadow(at, s); return v.Sight, err }
	moonShadow := func(at time.Time, s track.Site) (Sight, error) { v, err := MoonShadow(at, s); return v.Sight, err }
	// Full moon of 2027-03-22 10:44 UTC, new moon of 2027-03-08 09:29 UTC
	// (PyEphem 4.1.4).
	fullNight, newNight := time.Date(2027, 3, 22, 0, 0, 0, 0, time.UTC), time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		of   func(time.Time, track.Site) (Sight, error)
		at   time.Time
		site track.Site
		want string // part of the refusal; empty: of use
	}{
		{"sun by day", sunShadow, noon, north52, ""},
		{"sun at night", sunShadow, fullNight, north52, "below the horizon"},
		{"sun in the zenith", sunShadow, noon, below(t, noon), "too high: 90°"},
		{"sun just up", sunShadow, time.Date(2027, 3, 20, 12, 0, 0, 0, time.UTC), track.Site{LatitudeDeg: 90}, "too low for a shadow"},
		{"star by night", PoleStarSight, fullNight, north52, ""},
		{"star by day", PoleStarSight, noon, north52, "too light"},
		{"star in the south", PoleStarSight, fullNight, south33, "Southern Cross"},
		{"star near the equator", PoleStarSight, fullNight, track.Site{LatitudeDeg: 4}, "too low here: 4°"},
		{"star at the pole", PoleStarSight, fullNight, track.Site{LatitudeDeg: 90}, "too high here to tell a direction: 89°"},
		{"full moon by night", MoonSight, fullNight, north52, ""},
		{"its shadow", moonShadow, fullNight, north52, ""},
		{"full moon by day", MoonSight, fullNight.Add(12 * time.Hour), north52, "below the horizon"},
		{"new moon by day", MoonSight, newNight.Add(12 * time.Hour), north52, "too thin to be found by daylight: 0 %"},
		{"its shadow by day", moonShadow, newNight.Add(12 * time.Hour), north52, "too light"},
		{"half moon by day", MoonSight, time.Date(2027, 3, 15, 17, 0, 0, 0, time.UTC), north52, ""},
	} {
		got, err := c.of(c.at, c.site)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.want == "" && (got.Refusal != "" || got.UncertaintyDeg > worstSightDeg) || !strings.Contains(got.Refusal, c.want) {
			t.Errorf("%s: refusal %q (%.1f°), want %q", c.name, got.Refusal, got.UncertaintyDeg, c.want)
		}
		if c.want != "" && got.UncertaintyDeg != unknownDeg {
			t.Errorf("%s: refused with %.1f°", c.name, got.UncertaintyDeg)
		}
	}
}

// The moon is never offered to the eye by daylight within 55° of the sun.
func TestMoonSightKeepsOffTheSun(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	offered := 0
	for range 5000 {
		site := track.Site{LatitudeDeg: r.Float64()*140 - 70, LongitudeDeg: r.Float64()*360 - 180}
		at := time.Unix(1767225600+r.Int64N(5*365*86400), 0)
		sight, err := MoonSight(at, site)
		if err != nil {
			t.Fatal(err)
		}
		sun, _ := Sun(at, site)
		moon, _ := Moon(at, site)
		if sight.Refusal != "" || sun.ElevationDeg < darkDeg {
			continue
		}
		offered++
		if off := track.SeparationDeg(sun.AzimuthDeg, sun.ElevationDeg, moon.AzimuthDeg, moon.ElevationDeg); off < 55 {
			t.Errorf("%s at %+v: the moon is offered %.0f° from the sun", at, site, off)
		}
	}
	if offered < 200 {
		t.Errorf("offered only %d times", offered)
	}
}

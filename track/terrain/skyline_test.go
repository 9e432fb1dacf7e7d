package terrain

import (
	"math"
	"testing"

	"foreaim/track"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func mustSkyline(t testing.TB, points ...Point) Skyline {
	t.Helper()
	s, err := NewSkyline(points...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Worked by hand.
func TestElevation(t *testing.T) {
	house := mustSkyline(t, Point{350, 20}, Point{10, 10}, Point{90, -5}, Point{180, 30})
	for _, c := range []struct {
		name          string
		skyline       Skyline
		azimuth, want float64
	}{
		{"no point", Skyline{}, 123, 0},
		{"one point, there", mustSkyline(t, Point{70, 12}), 70, 12},
		{"one point, opposite", mustSkyline(t, Point{70, 12}), 250, 12},
		{"at a point", house, 90, -5},
		{"between", house, 135, 12.5},
		{"through north", house, 0, 15},
		{"before north", house, 355, 17.5},
		{"at 360", house, 360, 15},
		{"long way round", house, 265, 25},
		{"wrapped", house, -225, 12.5},
		{"two points, one side", mustSkyline(t, Point{0, 0}, Point{180, 18}), 90, 9},
		{"two points, other side", mustSkyline(t, Point{360, 0}, Point{180, 18}), 270, 9},
	} {
		if got := c.skyline.ElevationDeg(c.azimuth); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v° at %v°, want %v°", c.name, got, c.azimuth, c.want)
		}
	}
}

func TestAdd(t *testing.T) {
	first := mustSkyline(t, Point{90, 10}, Point{270, 20})
	second, err := first.Add(360, 5)
	if err != nil {
		t.Fatal(err)
	}
	third, err := second.Add(90, 40)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		got  Skyline
		want []Point
	}{
		{"as it was", first, []Point{{90, 10}, {270, 20}}},
		{"360 is 0", second, []Point{{0, 5}, {90, 10}, {270, 20}}},
		{"replaced", third, []Point{{0, 5}, {90, 40}, {270, 20}}},
	} {
		if diff := cmp.Diff(c.want, c.got.Points()); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
	if lowest, highest := third.RangeDeg(); lowest != 5 || highest != 40 {
		t.Errorf("from %v to %v, want 5 to 40", lowest, highest)
	}
}

func TestSkylineRefuses(t *testing.T) {
	for _, c := range []struct {
		point Point
		want  string
	}{
		{Point{-1, 0}, "azimuth -1 is not 0 to 360 degrees"},
		{Point{360.5, 0}, "azimuth 360.5 is not 0 to 360 degrees"},
		{Point{math.NaN(), 0}, "azimuth NaN is not 0 to 360 degrees"},
		{Point{0, -5.1}, "elevation -5.1 is not -5 to 90 degrees"},
		{Point{0, 90.1}, "elevation 90.1 is not -5 to 90 degrees"},
		{Point{0, math.NaN()}, "elevation NaN is not -5 to 90 degrees"},
	} {
		if _, err := NewSkyline(c.point); err == nil || err.Error() != c.want {
			t.Errorf("new: %v, want %q", err, c.want)
		}
		before := mustSkyline(t, Point{1, 2})
		after, err := before.Add(c.point.AzimuthDeg, c.point.ElevationDeg)
		if err == nil || err.Error() != c.want {
			t.Errorf("add: %v, want %q", err, c.want)
		}
		if diff := cmp.Diff(before.Points(), after.Points()); diff != "" {
			t.Errorf("%s changed it: %s", c.want, diff)
		}
	}
	if _, err := NewSkyline(Point{0, 1}, Point{90, 1}, Point{360, 2}); err == nil || err.Error() != "azimuth 0 is there twice" {
		t.Errorf("twice: %v", err)
	}
}

// skylines makes skylines of up to 12 points, some at round places.
var skylines = rapid.Custom(func(t *rapid.T) Skyline {
	azimuth := rapid.OneOf(rapid.Float64Range(0, 360), rapid.SampledFrom([]float64{0, 45, 90, 180, 270, 360, 359.9999999}))
	elevation := rapid.OneOf(rapid.Float64Range(LowestDeg, HighestDeg), rapid.SampledFrom([]float64{-5, 0, 10, 90}))
	var s Skyline
	for range rapid.IntRange(0, 12).Draw(t, "points") {
		var err error
		if s, err = s.Add(azimuth.Draw(t, "azimuth"), elevation.Draw(t, "elevation")); err != nil {
			t.Fatal(err)
		}
	}
	return s
})

func TestSkylineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := skylines.Draw(t, "skyline")
		lowest, highest := s.RangeDeg()
		horizon := s.Horizon(-90)
		for range 20 {
			azimuth := rapid.Float64Range(0, 360).Draw(t, "azimuth")
			e := s.ElevationDeg(azimuth)
			if !(e >= lowest && e <= highest) {
				t.Errorf("%v° at %v° is not %v to %v", e, azimuth, lowest, highest)
			}
			if horizon.SkylineDeg(azimuth) != e || horizon.LowestDeg != lowest {
				t.Errorf("horizon %+v differs at %v°", horizon, azimuth)
			}
		}
		for _, p := range s.Points() {
			if e := s.ElevationDeg(p.AzimuthDeg); e != p.ElevationDeg {
				t.Errorf("%v° at the point %+v", e, p)
			}
			// No point on the way: half way is the mean, and the slope is even.
			n := nextAfter(s.Points(), p)
			width := track.Wrap360(n.AzimuthDeg - p.AzimuthDeg)
			if width < 1e-3 {
				continue
			}
			want := (p.ElevationDeg + n.ElevationDeg) / 2
			if e := s.ElevationDeg(p.AzimuthDeg + width/2); math.Abs(e-want) > 1e-6 {
				t.Errorf("%v° half way from %+v to %+v", e, p, n)
			}
		}
		again, err := NewSkyline(s.Points()...)
		if err != nil || !cmp.Equal(again.Points(), s.Points()) {
			t.Errorf("again: %+v, %v, want %+v", again, err, s)
		}
	})
}

// nextAfter returns the next point clockwise.
func nextAfter(points []Point, p Point) Point {
	best, width := p, math.Inf(1)
	for _, q := range points {
		if w := track.Wrap360(q.AzimuthDeg - p.AzimuthDeg); w > 0 && w < width {
			best, width = q, w
		}
	}
	return best
}

func TestMaxProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := skylines.Draw(t, "a"), skylines.Draw(t, "b")
		both, swapped := a.Max(b), b.Max(a)
		if _, err := NewSkyline(both.Points()...); err != nil {
			t.Errorf("not a skyline: %v", err)
		}
		azimuths := rapid.SliceOfN(rapid.Float64Range(0, 360), 20, 20).Draw(t, "azimuths")
		for _, p := range append(a.Points(), b.Points()...) {
			azimuths = append(azimuths, p.AzimuthDeg)
		}
		for _, azimuth := range azimuths {
			want := math.Max(a.ElevationDeg(azimuth), b.ElevationDeg(azimuth))
			// Nearly vertical walls: rounding of an azimuth moves the top.
			wall := steepest(a) + steepest(b)
			tolerance := 1e-9 + 1e-12*wall
			if got := both.ElevationDeg(azimuth); math.Abs(got-want) > tolerance {
				t.Errorf("%v° at %v°, want %v", got, azimuth, want)
			}
			if got := swapped.ElevationDeg(azimuth); math.Abs(got-want) > tolerance {
				t.Errorf("swapped: %v° at %v°, want %v", got, azimuth, want)
			}
		}
	})
}

// steepest returns the greatest slope of a skyline.
func steepest(s Skyline) (slope float64) {
	for _, p := range s.Points() {
		n := nextAfter(s.Points(), p)
		if n != p {
			slope = math.Max(slope, math.Abs(n.ElevationDeg-p.ElevationDeg)/track.Wrap360(n.AzimuthDeg-p.AzimuthDeg))
		}
	}
	return slope
}

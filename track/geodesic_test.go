package track

import (
	"errors"
	"math"
	"testing"

	"foreaim/track/internal/testtable"

	"pgregory.net/rapid"
)

// Source: GeographicLib for Python 2.0 (header of the file). The tolerance
// asked for is 0.001° and 1 m under 300 km; the file is good to 0.1 mm.
func TestBearingAgainstReference(t *testing.T) {
	checked := 0
	for _, row := range testtable.Rows(t, "../testdata/geodesy/geodesic_inverse.csv") {
		site := func(n string) Site {
			// The file also writes longitudes as 181 or 350.
			return Site{LatitudeDeg: number(t, row["lat"+n+"_deg"]), LongitudeDeg: TurnDeg(0, number(t, row["lon"+n+"_deg"]))}
		}
		bearing, distance, err := site("1").Bearing(site("2"))
		wantM := number(t, row["distance_m"])
		if wantM == 0 {
			if !errors.Is(err, ErrSamePlace) {
				t.Errorf("%s: %v° and error %v, want ErrSamePlace", row["id"], bearing, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", row["id"], err)
			continue
		}
		if off := math.Abs(distance - wantM); off > 0.001 {
			t.Errorf("%s: %.4f m, want %.4f", row["id"], distance, wantM)
		}
		if row["azi_defined"] == "no" {
			continue
		}
		// The points of short lines are rounded to about 0.01 mm.
		tolerance := math.Max(1e-6, math.Atan2(1e-4, wantM)*180/math.Pi)
		if off := math.Abs(TurnDeg(bearing, number(t, row["azi1_deg"]))); off > tolerance {
			t.Errorf("%s: bearing %.7f°, off by %.7f", row["id"], bearing, off)
		}
		checked++
	}
	if checked < 50 {
		t.Errorf("only %d bearings checked", checked)
	}
}

func TestBearingRefuses(t *testing.T) {
	good := Site{LatitudeDeg: 10, LongitudeDeg: 20}
	for _, bad := range []Site{
		{LatitudeDeg: math.NaN()}, {LongitudeDeg: math.Inf(1)}, {LatitudeDeg: 90.1}, {LongitudeDeg: -181}, {HeightM: math.NaN()},
	} {
		if _, _, err := good.Bearing(bad); err == nil {
			t.Errorf("to %+v: no error", bad)
		}
		if _, _, err := bad.Bearing(good); err == nil {
			t.Errorf("from %+v: no error", bad)
		}
	}
}

// Over 100 m to 300 km the geodesic starts in the direction of the straight
// line through the Earth to well under a thousandth of a degree, and is longer
// than the chord by its curvature only.
func TestBearingAgreesWithStraightLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := Site{LatitudeDeg: rapid.Float64Range(-90, 90).Draw(t, "lat"), LongitudeDeg: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		// A target in any direction, laid off in the plane of east and north.
		p := newPlace(from)
		sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "towards"))
		away := rapid.Float64Range(0.1, 300).Draw(t, "km")
		var target Vector
		for i := range target {
			target[i] = p.position[i] + away*(sin*p.east[i]+cos*p.north[i])
		}
		lat, lon, _ := Geodetic(target)
		to := Site{LatitudeDeg: lat, LongitudeDeg: lon}
		bearing, distance, err := from.Bearing(to)
		if err != nil {
			t.Fatal(err)
		}
		azimuth, _, chordKm := from.Direction(to)
		if off := math.Abs(TurnDeg(bearing, azimuth)); off > 0.001 {
			t.Fatalf("bearing %v, straight line %v", bearing, azimuth)
		}
		arc := chordKm * (1 + chordKm*chordKm/(24*6371*6371)) // of a sphere
		if math.Abs(distance/1000-arc) > 1e-4+1e-6*arc {
			t.Fatalf("%v m, chord %v km", distance, chordKm)
		}
		_, back, err := to.Bearing(from)
		if err != nil || math.Abs(back-distance) > 1e-6 {
			t.Fatalf("back %v m (%v), there %v m", back, err, distance)
		}
	})
}

func BenchmarkBearing(b *testing.B) {
	from, to := Site{LatitudeDeg: 58.31, LongitudeDeg: 14.08}, Site{LatitudeDeg: 58.4, LongitudeDeg: 14.3}
	for b.Loop() {
		if _, _, err := from.Bearing(to); err != nil {
			b.Fatal(err)
		}
	}
}

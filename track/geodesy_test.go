package track

import (
	"math"
	"testing"

	"foreaim/track/internal/testtable"

	"pgregory.net/rapid"
)

// Source: PROJ 9.1.1, checked with astropy 5.2.1 (header of the file).
func TestGeodeticAgainstReference(t *testing.T) {
	for _, row := range testtable.Rows(t, "../testdata/geodesy/geodetic_to_ecef.csv") {
		site := rowSite(t, row)
		want := Vector{number(t, row["x_m"]) / 1000, number(t, row["y_m"]) / 1000, number(t, row["z_m"]) / 1000}
		if off := norm(sub(site.EarthFixed(), want)); off > 1e-6 {
			t.Errorf("%s: off by %.6f m, want within 1 mm", row["id"], off*1000)
		}
		lat, lon, height := Geodetic(want)
		// As a distance, since a longitude is worth nothing at a pole.
		back := Site{LatitudeDeg: lat, LongitudeDeg: lon, HeightM: height * 1000}
		if off := norm(sub(back.EarthFixed(), want)); off > 1e-6 || math.Abs(height*1000-site.HeightM) > 1e-3 || math.Abs(lat-site.LatitudeDeg) > 1e-8 {
			t.Errorf("%s: back to %+v, off by %.6f m", row["id"], back, off*1000)
		}
	}
}

// Source: PROJ 9.1.1, checked with astropy 5.2.1 (header of the file).
func TestDirectionAgainstReference(t *testing.T) {
	for _, row := range testtable.Rows(t, "../testdata/geodesy/look_angles.csv") {
		site := func(prefix string) Site {
			return Site{LatitudeDeg: number(t, row[prefix+"lat_deg"]), LongitudeDeg: number(t, row[prefix+"lon_deg"]), HeightM: number(t, row[prefix+"h_m"])}
		}
		azimuth, elevation, km := site("obs_").Direction(site("tgt_"))
		if off := math.Abs(km*1000 - number(t, row["range_m"])); off > 1e-3 {
			t.Errorf("%s: range off by %.5f m", row["id"], off)
		}
		if off := math.Abs(elevation - number(t, row["el_deg"])); off > 1e-6 {
			t.Errorf("%s: elevation off by %.8f°", row["id"], off)
		}
		if row["az_deg"] == "" { // straight up or down
			continue
		}
		if off := math.Abs(TurnDeg(azimuth, number(t, row["az_deg"]))) * math.Cos(elevation*math.Pi/180); off > 1e-6 {
			t.Errorf("%s: azimuth off by %.8f°", row["id"], off)
		}
	}
}

// There and back everywhere from deep mines to far above geostationary height.
func TestGeodeticRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "latitude")
		lon := rapid.Float64Range(-180, 180).Draw(t, "longitude")
		height := rapid.OneOf(rapid.Float64Range(-100, 100), rapid.Float64Range(100, 400000)).Draw(t, "height")
		p := Site{LatitudeDeg: lat, LongitudeDeg: lon, HeightM: height * 1000}.EarthFixed()
		lat2, lon2, height2 := Geodetic(p)
		q := Site{LatitudeDeg: lat2, LongitudeDeg: lon2, HeightM: height2 * 1000}.EarthFixed()
		if off := norm(sub(p, q)); off > 1e-7 || math.Abs(height-height2) > 1e-7 {
			t.Fatalf("%v %v %v came back as %v %v %v, %.3g m away", lat, lon, height, lat2, lon2, height2, off*1000)
		}
	})
}

func TestGeodeticOnTheAxis(t *testing.T) {
	for _, c := range []struct{ z, lat, height float64 }{{6400, 90, 6400 - 6356.752314245}, {-6400, -90, 6400 - 6356.752314245}} {
		lat, lon, height := Geodetic(Vector{0, 0, c.z})
		if lat != c.lat || lon != 0 || math.Abs(height-c.height) > 1e-8 {
			t.Errorf("z = %v km: %v %v %v, want %v 0 %v", c.z, lat, lon, height, c.lat, c.height)
		}
	}
}

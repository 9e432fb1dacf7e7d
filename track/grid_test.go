package track

import (
	"math"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"

	"pgregory.net/rapid"
)

// Source: GeographicLib 2.1.2, checked with PROJ 9.1.1 (header of the file).
func TestGridAgainstReference(t *testing.T) {
	for _, row := range testtable.Rows(t, "../testdata/geodesy/utm_convergence.csv") {
		site := Site{LatitudeDeg: number(t, row["latitude_deg"]), LongitudeDeg: number(t, row["longitude_deg"])}
		g, err := site.Grid()
		if err != nil {
			t.Errorf("%+v: %v", site, err)
			continue
		}
		if south := row["hemisphere"] == "s"; float64(g.Zone) != number(t, row["zone"]) || g.South != south {
			t.Errorf("%+v: %v, want zone %s %s", site, g, row["zone"], row["hemisphere"])
		}
		if off := math.Abs(g.ConvergenceDeg - number(t, row["convergence_deg"])); off > 1e-8 {
			t.Errorf("%+v: convergence %.10f, off by %.2g", site, g.ConvergenceDeg, off)
		}
	}
}

func TestGridRefuses(t *testing.T) {
	for want, site := range map[string]Site{
		"80° south to 84° north": {LatitudeDeg: 84.001},
		"use true bearings":      {LatitudeDeg: -80.001},
		"outside -90 to 90":      {LatitudeDeg: math.NaN()},
		"outside -180 to 180":    {LongitudeDeg: math.NaN()},
	} {
		if g, err := site.Grid(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v and error %v, want one with %q", site, g, err, want)
		}
	}
}

// East of the central meridian grid north leans east in the north and west in
// the south, and a true bearing is that on the map plus the convergence.
func TestGridProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := Site{LatitudeDeg: rapid.Float64Range(-80, 84).Draw(t, "lat"), LongitudeDeg: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		g, err := site.Grid()
		if err != nil || g.Zone < 1 || g.Zone > 60 {
			t.Fatal(g, err)
		}
		east := TurnDeg(float64(g.Zone*6-183), site.LongitudeDeg)
		if math.Abs(east) > 9 {
			t.Fatalf("%v is %v° from its meridian", g, east)
		}
		// The sphere's convergence is within a hundredth of the ellipsoid's.
		const rad = math.Pi / 180
		sphere := math.Atan(math.Tan(east*rad)*math.Sin(site.LatitudeDeg*rad)) / rad
		if math.Abs(g.ConvergenceDeg-sphere) > 0.01*math.Abs(sphere)+1e-9 {
			t.Fatalf("convergence %v, on a sphere %v", g.ConvergenceDeg, sphere)
		}
		bearing := rapid.Float64Range(0, 360).Draw(t, "bearing")
		if turned := TurnDeg(bearing, g.TrueDeg(bearing)); math.Abs(turned-g.ConvergenceDeg) > 1e-9 {
			t.Fatalf("%v on the map is %v true, want %v more", bearing, g.TrueDeg(bearing), g.ConvergenceDeg)
		}
	})
}

package terrain

import (
	"math"
	"testing"
)

// The radius of the first Fresnel zone: testdata/terrain/
// knife_edge_geometry_check.csv. The bulge: 500·d1·d2/ae (ITU-R P.526-15).
func TestSection(t *testing.T) {
	for _, c := range rows(t, "terrain/knife_edge_geometry_check.csv") {
		d1, d2 := number(t, c["d1_km"]), number(t, c["d2_km"])
		p := Profile{DistanceKm: []float64{0, d1, d1 + d2}, GroundM: []float64{10, 40, 20}}
		l := Link{FrequencyMHz: number(t, c["f_mhz"]), FromM: 2, ToM: 50}
		points, err := p.Section(l)
		if err != nil || len(points) != 3 {
			t.Fatal(points, err)
		}
		near(t, "Fresnel", points[1].FresnelM, number(t, c["fresnel1_radius_m"]), 1e-3)
		near(t, "ground", points[1].GroundM, 40+500*d1*d2/8500, 1e-9)
		near(t, "line", points[1].LineM, 12+(70-12)*d1/(d1+d2), 1e-9)
		if points[0] != (SectionPoint{0, 10, 12, 0}) || points[2] != (SectionPoint{d1 + d2, 20, 70, 0}) {
			t.Errorf("%+v", points)
		}
		passage, err := p.Pass(l)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "clearance", points[1].LineM-points[1].GroundM, passage.ClearanceM, 1e-9)
	}
}

// The elevation of the edge as seen from both ends, by triangles on the bent Earth.
func TestElevationAlongProfile(t *testing.T) {
	p := Profile{DistanceKm: []float64{0, 5, 20}, GroundM: []float64{10, 400, 20}}
	got, err := p.Pass(Link{FrequencyMHz: 437, FromM: 2, ToM: 30})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from the start", got.FromElevationDeg, elevationDeg(12, 400, 5000), 0.002)
	near(t, "from the end", got.ToElevationDeg, elevationDeg(50, 400, 15000), 0.002)
	p.GroundM[1] = 0
	got, err = p.Pass(Link{FrequencyMHz: 437, FromM: 2, ToM: 500})
	if err != nil || !got.LineOfSight {
		t.Fatal(got, err)
	}
	near(t, "the other antenna", got.FromElevationDeg, elevationDeg(12, 520, 20000), 0.002)
}

func TestPassRefuses(t *testing.T) {
	good := Profile{DistanceKm: []float64{0, 1, 2}, GroundM: []float64{0, 0, 0}}
	for name, c := range map[string]struct {
		p Profile
		l Link
	}{
		"two points":   {Profile{DistanceKm: []float64{0, 1}, GroundM: []float64{0, 0}}, Link{FrequencyMHz: 400}},
		"heights":      {Profile{DistanceKm: []float64{0, 1, 2}, GroundM: []float64{0, 0}}, Link{FrequencyMHz: 400}},
		"no frequency": {good, Link{}},
		"NaN":          {good, Link{FrequencyMHz: math.NaN()}},
		"antenna":      {good, Link{FrequencyMHz: 400, FromM: -1}},
		"sea":          {good, Link{FrequencyMHz: 400, SeaShare: 1.1}},
		"Earth":        {good, Link{FrequencyMHz: 400, EarthKm: 6}},
	} {
		if _, err := c.p.Pass(c.l); err == nil {
			t.Errorf("%s is taken", name)
		}
		if _, err := c.p.Section(c.l); err == nil {
			t.Errorf("%s is drawn", name)
		}
	}
	if got, err := good.Pass(Link{FrequencyMHz: 400}); err != nil || math.IsNaN(got.LossDB) || math.IsInf(got.LossDB, 0) {
		t.Error(got, err)
	}
}

func TestNewProfileRefuses(t *testing.T) {
	g := GroundFunc(func(_, _ float64) float64 { return 0 })
	for name, c := range map[string]struct {
		to   Place
		step float64
	}{
		"same place": {meadow, 30}, "far": {Place{0, 0}, 30}, "step": {moved(meadow, 0, 1), -1},
		"latitude": {Place{91, 0}, 30}, "NaN": {Place{math.NaN(), 0}, 30},
	} {
		if _, err := NewProfile(g, meadow, c.to, c.step); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	p, err := NewProfile(g, meadow, moved(meadow, 0, 900), 1)
	if err != nil || len(p.GroundM) != maxProfile+1 {
		t.Error(len(p.GroundM), err)
	}
}

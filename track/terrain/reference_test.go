package terrain

import (
	"math"
	"testing"

	"foreaim/track/internal/testtable"
)

// rows reads a table of testdata.
func rows(t testing.TB, file string) []map[string]string {
	t.Helper()
	return testtable.Rows(t, "../../testdata/"+file)
}

func number(t testing.TB, cell string) float64 {
	t.Helper()
	return testtable.Number(t, cell)
}

// near fails when got is further than within from want.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, within)
	}
}

// Source: testdata/terrain/delta_bullington_cases.csv, ITU-R Study Group 3.
func TestDeltaBullington(t *testing.T) {
	profiles := map[string]Profile{}
	cases := rows(t, "terrain/delta_bullington_cases.csv")
	for _, c := range cases {
		f := number(t, c["f_mhz"])
		name := c["profile"]
		if _, there := profiles[name]; !there {
			var p Profile
			for _, row := range rows(t, "terrain/profiles/"+name) {
				p.DistanceKm = append(p.DistanceKm, number(t, row["d_km"]))
				p.GroundM = append(p.GroundM, number(t, row["h_m"]))
			}
			profiles[name] = p
		}
		p := profiles[name]
		link := Link{
			FrequencyMHz: f, FromM: number(t, c["tx_h_agl_m"]), ToM: number(t, c["rx_h_agl_m"]),
			Vertical: c["pol"] == "v", SeaShare: number(t, c["sea_fraction"]), EarthKm: number(t, c["ae_km"]),
		}
		lambda := number(t, c["lambda_const_m_ghz"]) / f * 1000
		got := p.pass(link, lambda)
		if clutter := rows(t, "terrain/profiles/"+name)[0]["clutter_m"]; clutter != "" && c["set"][:12] == "ITU-R P.1812" {
			got = withClutter(t, p, link, lambda, name)
		}
		near(t, c["case"]+" Bullington", got.BullingtonDB, number(t, c["l_bullington_actual_db"]), 1e-4)
		near(t, c["case"], got.LossDB, number(t, c["l_delta_bullington_db"]), 0.01)
		from, to := p.smooth(p.GroundM[0]+link.FromM, p.GroundM[len(p.GroundM)-1]+link.ToM)
		near(t, c["case"]+" smooth height at the start", from, number(t, c["hstd_m"]), 1e-3)
		near(t, c["case"]+" at the end", to, number(t, c["hsrd_m"]), 1e-3)
	}
	if len(cases) != 42 {
		t.Errorf("%d cases, want 42", len(cases))
	}
}

// withClutter adds houses and trees to the ground between the ends, as P.1812 does
// for the edge but not for the smooth heights.
func withClutter(t *testing.T, p Profile, l Link, lambda float64, name string) Passage {
	t.Helper()
	last := len(p.GroundM) - 1
	covered := Profile{DistanceKm: p.DistanceKm, GroundM: append([]float64(nil), p.GroundM...)}
	for i, row := range rows(t, "terrain/profiles/"+name) {
		if i > 0 && i < last {
			covered.GroundM[i] += number(t, row["clutter_m"])
		}
	}
	bare, top := p.pass(l, lambda), bullington(p.DistanceKm, covered.GroundM, p.GroundM[0]+l.FromM, p.GroundM[last]+l.ToM, l.EarthKm, lambda)
	top.LossDB = top.BullingtonDB + bare.LossDB - bare.BullingtonDB
	return top
}

// Source: testdata/terrain/knife_edge_check.csv, ITU-R P.526-15.
func TestKnifeEdge(t *testing.T) {
	for _, c := range rows(t, "terrain/knife_edge_check.csv") {
		near(t, "v "+c["nu"], knifeEdgeDB(number(t, c["nu"])), number(t, c["j_db"]), 1e-4)
	}
}

// One edge in a way without bulge: what it does against
// testdata/terrain/knife_edge_geometry_check.csv.
func TestOneEdge(t *testing.T) {
	const flatEarthKm = 1e12
	for _, c := range rows(t, "terrain/knife_edge_geometry_check.csv") {
		d1, d2, h := number(t, c["d1_km"]), number(t, c["d2_km"]), number(t, c["h_m"])
		p := Profile{DistanceKm: []float64{0, d1, d1 + d2}, GroundM: []float64{0, 100 + h, 0}}
		got, err := p.Pass(Link{FrequencyMHz: number(t, c["f_mhz"]), FromM: 100, ToM: 100, EarthKm: flatEarthKm})
		if err != nil {
			t.Fatal(err)
		}
		name := c["f_mhz"] + " MHz, " + c["h_m"] + " m"
		// Bullington's formula adds to the edge: undone here.
		edge := number(t, c["j_db"])
		near(t, name, got.BullingtonDB, edge+(1-math.Exp(-edge/6))*(10+0.02*(d1+d2)), 2e-3)
		near(t, name+" Fresnel share", got.FresnelShare, -h/number(t, c["fresnel1_radius_m"]), 1e-4)
		near(t, name+" clearance", got.ClearanceM, -h, 1e-6)
		near(t, name+" place", got.WorstKm, d1, 0)
		if h != 0 && got.LineOfSight != (h < 0) {
			t.Errorf("%s: in sight: %v", name, got.LineOfSight)
		}
	}
}

// Over level ground two antennas lose sight of each other at the radio horizon.
// Source: testdata/radio/radio_horizon_check.csv.
func TestSightEndsAtRadioHorizon(t *testing.T) {
	for _, c := range rows(t, "radio/radio_horizon_check.csv") {
		h1, h2, want := number(t, c["h1_m"]), number(t, c["h2_m"]), number(t, c["d_ae8500_km"])
		if h1 == 0 || h2 == 0 {
			continue // such an antenna touches the ground
		}
		for _, off := range []float64{-0.01, 0.01} {
			var p Profile
			const steps = 20000
			for i := range steps + 1 {
				p.DistanceKm = append(p.DistanceKm, (want+off)*float64(i)/steps)
				p.GroundM = append(p.GroundM, 0)
			}
			got, err := p.Pass(Link{FrequencyMHz: 500, FromM: h1, ToM: h2})
			if err != nil {
				t.Fatal(err)
			}
			if got.LineOfSight != (off < 0) {
				t.Errorf("%v and %v m, %.2f km from the horizon: in sight: %v", h1, h2, off, got.LineOfSight)
			}
		}
	}
}

package diffraction

import (
	"math"
	"testing"

	"foreaim/track/internal/testtable"
)

const tables = "../../../testdata/radio/"

// Source: testdata/radio/smooth_earth_check.csv, ITU-R Study Group 3.
func TestSmoothEarth(t *testing.T) {
	for _, row := range testtable.Rows(t, tables+"smooth_earth_check.csv") {
		p := SmoothPath{
			FrequencyMHz: testtable.Number(t, row["f_mhz"]), DistanceKm: testtable.Number(t, row["d_km"]),
			Height1M: testtable.Number(t, row["h1_m"]), Height2M: testtable.Number(t, row["h2_m"]),
			EarthRadiusKm: testtable.Number(t, row["ae_km"]), SeaShare: testtable.Number(t, row["sea_share"]), Vertical: row["pol"] == "v",
		}
		if got, want := p.LossDB(), testtable.Number(t, row["l_db"]); math.Abs(got-want) > 0.01 {
			t.Errorf("%s: %.4f dB, want %.4f", row["case"], got, want)
		}
	}
}

// Source: testdata/radio/radio_horizon_check.csv.
func TestHorizon(t *testing.T) {
	for _, row := range testtable.Rows(t, tables+"radio_horizon_check.csv") {
		h1, h2 := testtable.Number(t, row["h1_m"]), testtable.Number(t, row["h2_m"])
		if got, want := HorizonKm(h1, h2, StandardRadiusKm), testtable.Number(t, row["d_ae8500_km"]); math.Abs(got-want) > 1e-4 {
			t.Errorf("%v m and %v m: %.5f km, want %.4f", h1, h2, got, want)
		}
	}
}

// Further away is never less, and nothing is NaN however low the antennas.
func TestSmoothEarthGrowsWithDistance(t *testing.T) {
	for _, h := range []float64{0, 1.5, 30, 1000} {
		last := 0.0
		for d := 0.01; d < 600; d *= 1.05 {
			got := SmoothPath{FrequencyMHz: 500, DistanceKm: d, Height1M: 200, Height2M: h, EarthRadiusKm: StandardRadiusKm}.LossDB()
			if !(got >= last-0.01) {
				t.Errorf("%v m at %.2f km: %.3f dB after %.3f", h, d, got, last)
			}
			last = got
		}
		if last < 50 {
			t.Errorf("%v m: only %.1f dB at 600 km", h, last)
		}
	}
}

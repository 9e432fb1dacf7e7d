package radio

import (
	"math"
	"testing"
)

// Source: testdata/radio/fsl_check.csv, ITU-R P.525-5.
func TestFreeSpace(t *testing.T) {
	for _, row := range reference(t, "fsl_check.csv") {
		f, d := number(t, row["f_mhz"]), number(t, row["d_km"])
		near(t, row["f_mhz"]+" MHz", FreeSpaceDB(f, d), number(t, row["lbf_exact_db"]), 1e-4)
		near(t, row["f_mhz"]+" MHz against the rounded constant", FreeSpaceDB(f, d), number(t, row["lbf_p525_32p4_db"]), 0.05)
	}
}

// Source: testdata/radio/ktb_check.csv.
func TestThermalNoise(t *testing.T) {
	for _, row := range reference(t, "ktb_check.csv") {
		got := ThermalNoiseDBm(number(t, row["temperature_k"]), number(t, row["bandwidth_hz"]))
		near(t, row["bandwidth_hz"]+" Hz", got, number(t, row["ktb_dbm"]), 1e-4)
	}
}

// Source: testdata/radio/field_strength_check.csv, ITU-R P.1546-6 and P.525-2.
// Its wave impedance is exact where P.525 has 120π: 0.003 dB.
func TestFieldStrength(t *testing.T) {
	for _, row := range reference(t, "field_strength_check.csv") {
		erp := decibels(number(t, row["erp_kw"])) + 60
		f, d := number(t, row["f_mhz"]), number(t, row["d_km"])
		near(t, "e.i.r.p.", EIRPDBm(erp), number(t, row["eirp_dbm"]), 1e-3)
		e := FieldStrengthDBuV(EIRPDBm(erp), d)
		near(t, "field", e, number(t, row["e_exact_dbuvm"]), 0.003)
		near(t, "field against the rounded constant", e, number(t, row["e_106p9_dbuvm"]), 0.03)
		near(t, "power", IsotropicDBm(e, f), number(t, row["p_iso_dbm_exact"]), 0.003)
		near(t, "power by the loss", EIRPDBm(erp)-FreeSpaceDB(f, d), number(t, row["p_iso_dbm_exact"]), 0.003)
		near(t, "loss", FreeSpaceDB(f, d), number(t, row["fsl_exact_db"]), 1e-3)
	}
}

func TestPowersOfNothing(t *testing.T) {
	if got := SumDBm(); !math.IsInf(got, -1) {
		t.Errorf("the sum of nothing is %v dBm", got)
	}
	near(t, "no rise", NoiseRiseDB(math.Inf(-1)), 0, 0)
}

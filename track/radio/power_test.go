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

// Source: testdata/radio/field_strength_check.csv, ITU-R P.1546-6 and P.525-2: the
// power by the field strength there, by the loss here.
func TestERP(t *testing.T) {
	for _, row := range reference(t, "field_strength_check.csv") {
		erp := decibels(number(t, row["erp_kw"])) + 60
		f, d := number(t, row["f_mhz"]), number(t, row["d_km"])
		near(t, "e.i.r.p.", EIRPDBm(erp), number(t, row["eirp_dbm"]), 1e-3)
		near(t, "power", EIRPDBm(erp)-FreeSpaceDB(f, d), number(t, row["p_iso_dbm_exact"]), 0.003)
		near(t, "loss", FreeSpaceDB(f, d), number(t, row["fsl_exact_db"]), 1e-3)
	}
}

func TestPowersOfNothing(t *testing.T) {
	if got := SumDBm(); !math.IsInf(got, -1) {
		t.Errorf("the sum of nothing is %v dBm", got)
	}
}

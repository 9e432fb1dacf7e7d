package radio

import (
	"math"
	"testing"
)

// Source: testdata/radio/antenna_pattern_check.csv, ITU-R F.699-8 and F.1336-5,
// whose width follows from the gain there.
func TestPatterns(t *testing.T) {
	for _, row := range reference(t, "antenna_pattern_check.csv") {
		g, off := number(t, row["gmax_dbi"]), number(t, row["off_axis_deg"])
		at := row["gmax_dbi"] + " dBi, " + row["off_axis_deg"] + "°"
		near(t, "F.699 "+at, EnvelopeF699(g, off), number(t, row["f699_8_rec2p3_dbi"]), 1e-3)
		near(t, "F.1336 "+at, patternF1336(g, math.Sqrt(27000*ratio(-g)), off), number(t, row["f1336_5_rec4_dbi"]), 1e-3)
	}
}

// Source: testdata/radio/yagi_nbs688.csv, NBS Technical Note 688, Table 1: gains
// to ± 0.5 dB, with the measured widths or the middle of the models'.
func TestBeamGain(t *testing.T) {
	for _, row := range reference(t, "yagi_nbs688.csv") {
		e := (number(t, row["hpbw_e_model_min"]) + number(t, row["hpbw_e_model_max"])) / 2
		h := (number(t, row["hpbw_h_model_min"]) + number(t, row["hpbw_h_model_max"])) / 2
		if row["hpbw_e_deg_measured"] != "" {
			e, h = number(t, row["hpbw_e_deg_measured"]), number(t, row["hpbw_h_deg_measured"])
		}
		near(t, row["boom_wavelengths"]+" λ", (Antenna{BeamwidthEDeg: e, BeamwidthHDeg: h}).axisDBi().Mid(), number(t, row["gain_dbi"]), 0.5)
	}
}

// Half the power at half the width, in either plane; a Yagi without a table is
// not known outside its band, in no direction.
func TestAntenna(t *testing.T) {
	a := Antenna{GainDBi: Given(12), BeamwidthEDeg: 40, BeamwidthHDeg: 50}
	spans(t, "on the axis", a.WantedDBi(437, 0), 12, 12, 0)
	spans(t, "20° off", a.WantedDBi(437, 20), 12-3, 12-12*400.0/2500, 1e-9)
	spans(t, "behind", a.WantedDBi(437, 180), 12-20, -8, 1e-9)
	for _, off := range []float64{0, 60, 180} {
		if g, directed := a.UnwantedDBi(437, 600, off); directed || g != OutOfBandDBi() {
			t.Errorf("600 MHz %v° off: %+v, directed %v", off, g, directed)
		}
	}
	g, directed := a.UnwantedDBi(437, 433, 60)
	if !directed || g.High != EnvelopeF699(12, 60) || g.Low != -8 {
		t.Errorf("in the band: %+v, directed %v", g, directed)
	}
}

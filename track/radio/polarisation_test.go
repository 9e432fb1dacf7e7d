package radio

import (
	"strings"
	"testing"
)

// Source: testdata/radio/polarisation_check.csv.
func TestPolarisation(t *testing.T) {
	n := 0
	for _, row := range reference(t, "polarisation_check.csv") {
		if row["loss_db"] == "" {
			continue // without end
		}
		var got float64
		parameter := strings.Fields(row["parameter"])
		switch row["case"] {
		case "linear-linear":
			got = PolarisationLossDB(0, 0, number(t, parameter[1]))
		case "linear-circular":
			got = PolarisationLossDB(0, 1, 33)
		case "circular-circular":
			got = PolarisationLossDB(-1, -1, 71)
		case "circular(AR)-linear":
			twist := map[string]float64{"best": 0, "worst": 90}[parameter[4]]
			got = PolarisationLossDB(Ellipticity(number(t, parameter[2])), 0, twist)
		default:
			t.Fatal(row)
		}
		n++
		near(t, row["case"]+" "+row["parameter"], got, number(t, row["loss_db"]), 1e-4)
	}
	if n != 19 {
		t.Errorf("%d values", n)
	}
}

func TestPolarisationRanges(t *testing.T) {
	spans(t, "two linear, any twist", Linear.LossDB(Linear), 0, 20, 1e-9)
	// The axial ratio of 3 dB in polarisation_check.csv: 1.7643 to 4.7643 dB.
	spans(t, "circular on linear", RightCircular.LossDB(Linear), 1.7643, 4.7643, 1e-4)
	if wrong := LeftCircular.LossDB(RightCircular); wrong.Low < 9 || wrong.High != 20 {
		t.Errorf("of the wrong sense: %+v dB", wrong)
	}
	spans(t, "unknown", Polarisation("").LossDB(Linear), 0, 20, 1e-9)
	if !Linear.TwistMatters("") || RightCircular.TwistMatters(Linear) {
		t.Error("twist matters between two linear ones, or unknown ones, only")
	}
}

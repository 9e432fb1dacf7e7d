package radio

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

// Whatever is put in a row of passive parts: the determinant is 1 (they work both
// ways alike), nothing comes out that didn't go in, and turned round it loses the
// same.
func TestTwoPortIsPassive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := func(name string) float64 { return rapid.Float64Range(-3, 3).Draw(t, name) }
		there, back := through, through
		for range rapid.IntRange(1, 6).Draw(t, "parts") {
			v := complex(math.Abs(value("loss")), value("reactance"))
			part := through
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				part = part.inSeries(v * 50)
			case 1:
				part = part.across(v / 50)
			case 2:
				part = lineOf(75, complex(math.Abs(value("nepers"))/10, value("radians")))
			}
			there, back = there.then(part), part.then(back)
		}
		if det := there.a*there.d - there.b*there.c; cmplx.Abs(det-1) > 1e-6*max(1, cmplx.Abs(there.a*there.d)) {
			t.Fatalf("determinant %v", det)
		}
		sent := 2 / (there.a + there.b/50 + there.c*50 + there.d) // S21 and S11 by their definitions
		returned := (there.a + there.b/50 - there.c*50 - there.d) / (there.a + there.b/50 + there.c*50 + there.d)
		if power := math.Pow(cmplx.Abs(sent), 2) + math.Pow(cmplx.Abs(returned), 2); power > 1+1e-9 {
			t.Fatalf("%v of the power comes out", power)
		}
		if math.Abs(there.lossDB(50)-back.lossDB(50)) > 1e-6 || math.Abs(there.lossDB(50)+20*math.Log10(cmplx.Abs(sent))) > 1e-6 {
			t.Fatalf("%v dB there, %v back", there.lossDB(50), back.lossDB(50))
		}
	})
}

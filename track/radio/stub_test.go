package radio

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// singleOf and pairOf are notches of one stub and of two equal ones, a quarter wave
// apart, trimmed, in a line of 50 Ω.
func singleOf(c Coax, s Stub) Notch {
	return FilterTask{SystemOhm: 50}.notchWith(c, []Stub{s}, s.NotchMHz)
}

func pairOf(c Coax, s Stub) Notch {
	return FilterTask{SystemOhm: 50}.notchWith(c, []Stub{s, s}, s.NotchMHz)
}

var ideal = Coax{Name: "ideal", ImpedanceOhm: 50, VelocityFactor: 0.66}

// A shunt susceptance b (over the line's admittance) loses 10·log(1 + b²/4): with
// b = tan θ for an open stub, −cot θ for a shorted one.
func TestIdealStubs(t *testing.T) {
	for _, mhz := range []float64{30, 100, 218.5, 300, 400, 437, 500, 900} {
		theta := math.Pi / 2 * mhz / 500
		open := singleOf(ideal, Stub{500, 1})
		near(t, "open", open.DBWith(mhz, 0), min(limitDB, 10*math.Log10(1+math.Pow(math.Tan(theta), 2)/4)), 1e-6)
		near(t, "shorted", singleOf(ideal, Stub{500, 2}).DBWith(mhz, 0), min(limitDB, 10*math.Log10(1+math.Pow(1/math.Tan(2*theta), 2)/4)), 1e-6)
		near(t, "longer", open.DBWith(mhz, 0.1), 10*math.Log10(1+math.Pow(math.Tan(1.1*theta), 2)/4), 1e-6)
	}
	if db := singleOf(ideal, Stub{500, 1}).DBWith(500, 0); db < 150 {
		t.Errorf("an ideal notch takes off %.0f dB", db)
	}
	// A half wave shorted at 500 MHz is a quarter wave at 250: it isn't there.
	near(t, "shorted quarter wave", singleOf(ideal, Stub{500, 2}).DBWith(250, 0), 0, 1e-9)
	// At direct current a shorted stub is a short circuit, an open one nothing.
	if db := singleOf(ideal, Stub{500, 2}).DBWith(1e-6, 0); db < 60 {
		t.Errorf("shorted stub at 1 Hz: %v dB", db)
	}
	near(t, "shorted stub at direct current", singleOf(ideal, Stub{500, 2}).DBWith(0, 0), limitDB, 0)
	near(t, "open stub at 1 Hz", singleOf(ideal, Stub{500, 1}).DBWith(1e-6, 0), 0, 1e-9)
}

// With loss: at resonance the open quarter wave is Z0·tanh(αl). Here 0.1 dB in
// the stub: 0.011513 Np, 0.57562 Ω across 50 Ω: 20·log(1 + 25/0.57562) = 32.95 dB.
// Two a quarter wave apart, each with b = 50/0.57562 = 86.863: the chain matrix of
// shunt, quarter wave (loss 0.1 dB too), shunt, worked by hand for a lossless
// spacing, is 20·log((2 + 2b + b²)/2) = 71.74 dB.
func TestLossyStubs(t *testing.T) {
	c := ideal
	c.LossDB100m, c.LossMHz = 100*0.1/(c.QuarterWaveMM(500)/1e3), 500
	near(t, "single", singleOf(c, Stub{500, 1}).DBWith(500, 0), 32.95, 0.01)
	near(t, "paired", pairOf(c, Stub{500, 1}).DBWith(500, 0), 71.74, 0.15)
	// The skin effect: half the loss at a quarter of the frequency.
	near(t, "nepers", real(c.gamma(125)), real(c.gamma(500))/2, 1e-12)
}

func TestStubSizes(t *testing.T) {
	// c/(4·500 MHz)·0.66 = 98.93 mm.
	c := ideal
	c.VelocityTolerance = 0.02
	spans(t, "quarter", Stub{500, 1}.LengthMM(c), 98.93*0.98, 98.93*1.02, 0.01)
	spans(t, "half", Stub{500, 2}.LengthMM(ideal), 197.86, 197.86, 0.01)
	near(t, "spacing", pairOf(ideal, Stub{500, 1}).SpacingMM(), 98.93, 0.01)
	for want, s := range map[string]Stub{
		"quarter-wave stub, open": {500, 1}, "half-wave stub, shorted": {500, 2}, "3-quarter-wave stub, open": {500, 3}, "full-wave stub, shorted": {500, 4},
	} {
		if got := s.Words(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if singleOf(ideal, Stub{500, 1}).ShortsFeed() || !pairOf(ideal, Stub{500, 2}).ShortsFeed() {
		t.Error("which stub shorts the feed")
	}
}

// The range holds every response within the tolerance, of both stubs on their own,
// and no more than it.
func TestStubTolerance(t *testing.T) {
	n := pairOf(Cables()[0], Stub{498, 3})
	for mhz := 300.0; mhz < 600; mhz += 1.7 {
		low, high := math.Inf(1), math.Inf(-1)
		for x := -20.0; x <= 20; x++ {
			for y := -20.0; y <= 20; y++ {
				db := n.dbWith(mhz, x/20*n.Tolerance, y/20*n.Tolerance)
				low, high = min(low, db), max(high, db)
			}
		}
		got := n.LossDB(mhz)
		near(t, "least", got.Low, low, 0.25)
		near(t, "most", got.High, high, 0.6) // a bottom is sharp: the grid here misses some of it
	}
	if n := singleOf(ideal, Stub{498, 1}); n.LossDB(437).Low >= n.LossDB(437).High {
		t.Error("a trimmed stub has no tolerance")
	}
	if n := (Notch{Cable: ideal, Stubs: []Stub{{498, 1}}, SystemOhm: 50}); n.LossDB(437) != Exactly(n.DBWith(437, 0)) {
		t.Error("an exact stub has a tolerance")
	}
}

func TestCoaxCheck(t *testing.T) {
	for _, c := range Cables() {
		if err := c.Check(); err != nil {
			t.Error(err)
		}
	}
	for want, c := range map[string]Coax{
		`cable "x": velocity factor is 1.2, want 0.3 to 1`: {Name: "x", ImpedanceOhm: 50, VelocityFactor: 1.2},
		`cable "x": its loss of 10 dB per 100 m needs`:     {Name: "x", ImpedanceOhm: 50, VelocityFactor: 0.7, LossDB100m: 10},
		`cable "x": impedance (ohm) is NaN`:                {Name: "x", ImpedanceOhm: math.NaN(), VelocityFactor: 0.7},
	} {
		if err := c.Check(); err == nil || !strings.Contains(err.Error(), want) || errors.Unwrap(err) != nil {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

package radio

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func plan(form Form, shape Shape, order int, low, high float64) LadderPlan {
	return LadderPlan{Form: form, Shape: shape, Order: order, LowMHz: low, HighMHz: high, EdgeDB: 0.1, SystemOhm: 50}
}

func design(t testing.TB, p LadderPlan) *Ladder {
	t.Helper()
	l, err := p.Design()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Of ideal parts a filter loses what the formula of its shape says, at the
// frequency that the transformation says: 10·log(1 + ε²Ω²ⁿ) or with Chebyshev's
// polynomial, Ω = f/fe, fe/f, (f/f0 − f0/f)/w.
func TestIdealLadders(t *testing.T) {
	for _, shape := range []Shape{Butterworth, Chebyshev} {
		for order := 1; order <= 9; order += 2 {
			for _, form := range []Form{LowPass, HighPass, BandPass} {
				l := design(t, plan(form, shape, order, 400, 480))
				for _, mhz := range []float64{100, 300, 390, 400, 420, 440, 480, 500, 700, 1500} {
					f0 := math.Sqrt(400 * 480)
					over := map[Form]float64{LowPass: mhz / 480, HighPass: 400 / mhz, BandPass: math.Abs(mhz/f0-f0/mhz) / (80 / f0)}[form]
					want := min(limitDB, prototypeDB(shape, order, 0.1, over))
					near(t, fmt.Sprintf("%s %s of order %d at %g MHz", shape, form, order, mhz), l.NominalDB(mhz), want, 1e-5)
					near(t, "seen by the prototype", l.Over(mhz), over, 1e-12)
				}
			}
		}
	}
}

// By hand: order 3, 3.0103 dB at 100 MHz, 50 Ω: g = 1, 2, 1. C = 1/(2π·1e8·50) =
// 31.831 pF, L = 2·50/(2π·1e8) = 159.155 nH. As a high-pass: L across =
// 50/(2·2π·1e8) = 39.789 nH between two of 31.831 pF.
func TestLadderValues(t *testing.T) {
	p := plan(LowPass, Butterworth, 3, 0, 100)
	p.EdgeDB = 10 * math.Log10(2)
	low := design(t, p)
	near(t, "C1", low.Branches[0].CapacitancePF, 31.831, 1e-3)
	near(t, "L2", low.Branches[1].InductanceNH, 159.155, 1e-3)
	near(t, "C3", low.Branches[2].CapacitancePF, 31.831, 1e-3)
	if b := low.Branches; !b[0].Across || b[1].Across || b[0].InductanceNH != 0 || b[1].CapacitancePF != 0 {
		t.Errorf("%+v", b)
	}
	p.Form, p.LowMHz = HighPass, 100
	high := design(t, p)
	near(t, "C1", high.Branches[0].CapacitancePF, 31.831, 1e-3)
	near(t, "L2", high.Branches[1].InductanceNH, 39.789, 1e-3)
	if b := high.Branches; b[0].Across || !b[1].Across {
		t.Errorf("%+v", b)
	}
}

// S. B. Cohn's estimate for the middle of a band-pass, 4.343·Σg/(w·Q) dB (Matthaei,
// Young and Jones, section 4.13, from memory): good while the loss is small. For a
// low-pass at direct current nothing is lost, as reactances vanish.
func TestLossByFiniteQ(t *testing.T) {
	for _, shape := range []Shape{Butterworth, Chebyshev} {
		for order := 3; order <= 7; order += 2 {
			p := plan(BandPass, shape, order, 400, 480)
			p.EdgeDB = 0.01
			p.Parts = Parts{CoilQ: 4000, CapacitorQ: 4000} // together 2000
			g, err := Prototype(shape, order, p.EdgeDB)
			if err != nil {
				t.Fatal(err)
			}
			f0 := math.Sqrt(400 * 480)
			want := 10 / math.Ln10 * sum(g[:order]) / (80 / f0 * 2000)
			near(t, fmt.Sprintf("%s %d", shape, order), design(t, p).NominalDB(f0)/want, 1, 0.03)
		}
	}
}

func TestLadderSpread(t *testing.T) {
	p := plan(LowPass, Chebyshev, 5, 0, 480)
	p.Parts = HandMade()
	l := design(t, p)
	again := design(t, p)
	for _, mhz := range []float64{200, 437, 480, 600, 800} {
		r := l.LossDB(mhz)
		if r != again.LossDB(mhz) {
			t.Error("the same seed draws something else")
		}
		if n := l.NominalDB(mhz); !(r.Low < n && n < r.High) {
			t.Errorf("%v MHz: %v around %v", mhz, r, n)
		}
	}
	// All values up by their tolerance moves the edge down by it: with the same
	// tolerance for coils and capacitors, exactly.
	p.Parts = Parts{CoilTolerance: 0.05, CapacitorTolerance: 0.05}
	l = design(t, p)
	ideal := plan(LowPass, Chebyshev, 5, 0, 480)
	spans(t, "far in the stop", l.LossDB(900), design(t, ideal).NominalDB(900*0.95), design(t, ideal).NominalDB(900*1.05), 1e-9)
	// Another sixty draws hardly ever leave the range of the first.
	p.Parts = HandMade()
	l = design(t, p)
	in, all := 0, 0
	for p.Parts.Seed = 2; p.Parts.Seed < 12; p.Parts.Seed++ {
		for _, d := range design(t, p).draws[2:] {
			for _, mhz := range []float64{437, 480, 600} {
				db, r := l.lossOf(d, mhz), l.LossDB(mhz)
				all++
				if db >= r.Low && db <= r.High {
					in++
				}
			}
		}
	}
	if share := float64(in) / float64(all); all != 10*drawn*3 || share < 0.94 {
		t.Errorf("%.3f of %d lie in the range", share, all)
	}
	p.Parts.Seed = 7
	if other := design(t, p); slices.EqualFunc(l.draws, other.draws, slices.Equal) {
		t.Error("another seed draws the same")
	}
}

func TestNearestE24(t *testing.T) {
	for _, c := range []struct{ value, want float64 }{
		{31.831, 33}, {159.155, 160}, {9.6, 10}, {9.5, 9.1}, {0.463, 0.47}, {1, 1}, {0.0999, 0.1}, {2.55, 2.7}, {2.54, 2.4}, {47e-3, 0.047}, {0, 0}, {math.Inf(1), 0}, {-3, 0},
	} {
		if got := NearestE24(c.value); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v: %v, want %v", c.value, got, c.want)
		}
	}
	// Neighbours are 10 % apart at most, but for 1.3 to 1.5: never further off than √(1.5/1.3).
	for v := 0.11; v < 5000; v *= 1.013 {
		if off := math.Abs(math.Log(NearestE24(v) / v)); off > math.Log(15.0/13)/2+1e-12 {
			t.Errorf("%v is rounded to %v", v, NearestE24(v))
		}
	}
	l := design(t, plan(BandPass, Butterworth, 3, 400, 480))
	for i, b := range l.Rounded().Branches {
		if b.CapacitancePF != NearestE24(l.Branches[i].CapacitancePF) {
			t.Errorf("%v pF", b.CapacitancePF)
		}
		near(t, "tuned to", resonanceMHz(b.InductanceNH, b.CapacitancePF), math.Sqrt(400*480), 1e-6)
	}
}

func TestLadderRefuses(t *testing.T) {
	good := plan(BandPass, Chebyshev, 3, 400, 480)
	for want, change := range map[string]func(*LadderPlan){
		"order is 4, want an odd one":                   func(p *LadderPlan) { p.Order = 4 },
		"order is 17, want 1 to 15":                     func(p *LadderPlan) { p.Order = 17 },
		"are 480 and 400 MHz":                           func(p *LadderPlan) { p.LowMHz, p.HighMHz = 480, 400 },
		"are NaN and 480 MHz":                           func(p *LadderPlan) { p.LowMHz = math.NaN() },
		`form of the filter is "", want`:                func(p *LadderPlan) { p.Form = "" },
		"ends is 0 ohm":                                 func(p *LadderPlan) { p.SystemOhm = 0 },
		"tolerance of the coils (a share) is 5, want 0": func(p *LadderPlan) { p.Parts.CoilTolerance = 5 },
		"Q of the coils is -1, want 0 to 1e+06":         func(p *LadderPlan) { p.Parts.CoilQ = -1 },
		"resonators have NaN nH, want 0 to 1e6":         func(p *LadderPlan) { p.ResonatorNH = math.NaN() },
		"a low-pass filter has no coupled resonators":   func(p *LadderPlan) { p.ResonatorNH, p.Form = 20, LowPass },
		"coils of 0.01 nH are too small":                func(p *LadderPlan) { p.ResonatorNH, p.LowMHz = 0.01, 100 },
		"coils of 500 nH are too large for 438 MHz":     func(p *LadderPlan) { p.ResonatorNH = 500 },
		"loss at the edge is 0 dB, want":                func(p *LadderPlan) { p.EdgeDB = 0 },
	} {
		p := good
		change(&p)
		if l, err := p.Design(); err == nil || l != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// Against the current sheet of L. Lorenz (1879): L = 8µ0·n²r³/(3l²)·
// ((2k² − 1)/k³·E(k) + (1 − k²)/k³·K(k) − 1), k² = 4r²/(4r² + l²).
func TestWindCoil(t *testing.T) {
	for nH := 8.0; nH < 300; nH *= 1.17 {
		c, err := WindCoil(nH)
		if err != nil {
			t.Fatal(err)
		}
		r, l, n := (c.DrillMM+c.WireMM)/2e3, c.LengthMM/1e3, c.Turns
		k2 := 4 * r * r / (4*r*r + l*l)
		k := math.Sqrt(k2)
		first, second := elliptic(k2)
		sheet := 8 * 4e-7 * math.Pi * n * n * r * r * r / (3 * l * l) * ((2*k2-1)/(k*k2)*second + (1-k2)/(k*k2)*first - 1)
		near(t, c.Words(), sheet*1e9/nH, 1, 0.02)
		if c.LengthMM < 2*c.WireMM*c.Turns || c.InductanceNH != nH {
			t.Errorf("%+v", c)
		}
	}
	if _, err := WindCoil(5000); err == nil || err.Error() != "no small air coil has 5000.0 nH" {
		t.Error(err)
	}
	// 8 pF and 10 nH: 1/(2π√(8e-20)) = 562.7 MHz.
	near(t, "resonance", resonanceMHz(10, 8), 562.7, 0.1)
}

// elliptic returns K and E by the arithmetic-geometric mean.
func elliptic(m float64) (first, second float64) {
	a, b, c, s, p := 1.0, math.Sqrt(1-m), math.Sqrt(m), m, 1.0
	for c > 1e-15 {
		a, b, c = (a+b)/2, math.Sqrt(a*b), (a-b)/2
		p *= 2
		s += p * c * c
	}
	first = math.Pi / (2 * a)
	return first, first * (1 - s/2)
}

func TestPractical(t *testing.T) {
	if err := design(t, plan(LowPass, Chebyshev, 5, 0, 480)).Practical(600); err != nil {
		t.Error(err)
	}
	for want, l := range map[string]*Ladder{
		"pF, less than what lies between": design(t, plan(LowPass, Butterworth, 5, 0, 6000)),
		"no more than a piece of wire":    design(t, plan(BandPass, Chebyshev, 5, 435, 440)),
		"would be a capacitor at 2000":    design(t, plan(LowPass, Butterworth, 5, 0, 480)),
		"no small air coil has":           design(t, plan(LowPass, Butterworth, 5, 0, 1)),
	} {
		highest := 500.0
		if strings.Contains(want, "2000") {
			highest = 2000
		}
		if strings.Contains(want, "small air") {
			highest = 1
		}
		if err := l.Practical(highest); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func BenchmarkLadderLoss(b *testing.B) {
	p := plan(LowPass, Chebyshev, 7, 0, 480)
	p.Parts = HandMade()
	l := design(b, p)
	for b.Loop() {
		l.LossDB(500)
	}
}

func BenchmarkStubLoss(b *testing.B) {
	n := pairOf(Cables()[0], Stub{498, 3})
	for b.Loop() {
		n.LossDB(437)
	}
}

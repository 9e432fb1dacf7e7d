package radio

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func resonant(shape Shape, order int, nH float64) LadderPlan {
	p := plan(BandPass, shape, order, 433, 441.5) // 2 %: narrow
	p.ResonatorNH = nH
	return p
}

// Of ideal parts a narrow one loses what the formula of its shape says: within the
// band, and to a decibel as far out as where it takes off 20 dB. Its two sides
// differ, so the mean of both is looked at there.
func TestCoupledResonators(t *testing.T) {
	for _, shape := range []Shape{Butterworth, Chebyshev} {
		for order := 2; order <= 5; order++ {
			for _, nH := range []float64{8, 20, 40} {
				l := design(t, resonant(shape, order, nH))
				if len(l.Branches) != 2*order+1 {
					t.Fatalf("%d branches", len(l.Branches))
				}
				f0 := math.Sqrt(433 * 441.5)
				for _, over := range []float64{0, 0.3, 0.6, 0.9, 1, 1.5, 2} {
					half := over * (441.5 - 433) / 2
					above := half + math.Sqrt(half*half+f0*f0) // f − f0²/f is twice half
					below := f0 * f0 / above
					want := prototypeDB(shape, order, 0.1, over)
					got := (l.NominalDB(above) + l.NominalDB(below)) / 2
					near(t, fmt.Sprintf("%s %d, %g nH, at %g", shape, order, nH, over), got, want, 0.06+0.05*want)
				}
			}
		}
	}
}

// S. B. Cohn's estimate of what is lost in the middle: 4.343·Σg/(w·Q) dB.
func TestCoupledLoss(t *testing.T) {
	for order := 2; order <= 4; order++ {
		p := resonant(Butterworth, order, 20)
		p.EdgeDB = 3
		p.Parts = Parts{CoilQ: 4000}
		g, err := Prototype(Butterworth, order, 3)
		if err != nil {
			t.Fatal(err)
		}
		f0 := math.Sqrt(433 * 441.5)
		want := 10 / math.Ln10 * sum(g[:order]) / ((441.5 - 433) / f0 * 4000)
		near(t, fmt.Sprintf("order %d", order), design(t, p).NominalDB(f0)/want, 1, 0.05)
	}
}

// With preferred capacitors each resonator is tuned again: alone, its neighbours
// shorted and the ends with their resistance, it resonates in the middle.
func TestCoupledIsTuned(t *testing.T) {
	p := resonant(Chebyshev, 3, 20)
	p.Parts = HandMade()
	l := design(t, p).Rounded()
	w := 2 * math.Pi * math.Sqrt(433*441.5) * 1e6
	for k := 1; k < len(l.Branches); k += 2 {
		b := l.Branches
		y := complex(0, w*b[k].CapacitancePF*1e-12-1/(w*b[k].InductanceNH*1e-9))
		for _, beside := range []int{k - 1, k + 1} {
			z := complex(0, -1/(w*b[beside].CapacitancePF*1e-12))
			if beside == 0 || beside == len(b)-1 {
				z += 50
			}
			y += 1 / z
		}
		near(t, fmt.Sprintf("susceptance of resonator %d", k/2+1), imag(y), 0, 1e-9)
		if b[k].CapacitancePF != NearestE24(b[k].CapacitancePF) {
			t.Errorf("%v pF", b[k].CapacitancePF)
		}
	}
	f0 := math.Sqrt(433 * 441.5)
	if r := l.LossDB(f0); r.High-r.Low > 1.5 || r.High-r.Low < 0.01 {
		t.Errorf("tuned, the loss is %v", r)
	}
}

func TestCoupledWords(t *testing.T) {
	p := resonant(Chebyshev, 3, 20)
	p.Parts = HandMade()
	l := design(t, p).Rounded()
	text := strings.Join(strings.Fields(strings.Join(l.Build(), " ")), " ")
	if !strings.Contains(text, "Tune each resonator to 437.2 MHz by its coil") || !strings.Contains(text, "7. Branch 7, in the line: C7 ") {
		t.Error(text)
	}
	if got := l.words(); got != "Band-pass filter of coupled resonators, Chebyshev of order 3, 0.10 dB at its edges, 433 to 442 MHz" {
		t.Error(got)
	}
	if got := strings.Join(l.Cautions(), " "); !strings.Contains(got, "lets no direct current through") || strings.Contains(got, "shorts the feed") {
		t.Error(got)
	}
}

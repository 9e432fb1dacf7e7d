package radio

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Parts is what coils and capacitors can be had. A Q of 0: without loss; a
// tolerance of 0: exact.
type Parts struct {
	CoilQ, CapacitorQ float64 // at all frequencies
	// The share by which a value may be off: 0.05 is 5 %.
	CoilTolerance, CapacitorTolerance float64
	Seed                              uint64 // of the draws within the tolerances
}

// HandMade returns what somebody makes and buys for 100 to 500 MHz: air coils, set
// by squeezing and stretching while measuring, and ceramic capacitors (C0G) of 2
// %. Common practice, no source.
func HandMade() Parts {
	return Parts{CoilQ: 120, CapacitorQ: 400, CoilTolerance: 0.03, CapacitorTolerance: 0.02, Seed: 1}
}

func (p Parts) check() error {
	for _, v := range []struct {
		name        string
		value, high float64
	}{
		{"Q of the coils", p.CoilQ, 1e6}, {"Q of the capacitors", p.CapacitorQ, 1e6},
		{"tolerance of the coils (a share)", p.CoilTolerance, 0.5},
		{"tolerance of the capacitors (a share)", p.CapacitorTolerance, 0.5},
	} {
		if !(v.value >= 0 && v.value <= v.high) { // refuses NaN too
			return fmt.Errorf("%s is %v, want 0 to %v", v.name, v.value, v.high)
		}
	}
	return nil
}

func (p Parts) coilLoss() float64      { return inverse(p.CoilQ) }
func (p Parts) capacitorLoss() float64 { return inverse(p.CapacitorQ) }

// inverse returns 1/q, and 0 for 0.
func inverse(q float64) float64 {
	if q == 0 {
		return 0
	}
	return 1 / q
}

// drawn is how often a filter is drawn within its tolerances.
const drawn = 60

// draw returns the branches as they may come out: all values high, all low (which
// moves the edges furthest), and drawn evenly within the tolerances, the same ones
// for the same seed. Coupled resonators are then tuned, as nobody leaves them as
// they come.
func (l *Ladder) draw() [][]Branch {
	p := l.Parts
	if p.CoilTolerance == 0 && p.CapacitorTolerance == 0 {
		return nil
	}
	random := rand.New(rand.NewPCG(p.Seed, 0))
	even := func() float64 { return 2*random.Float64() - 1 }
	high, low := func() float64 { return 1 }, func() float64 { return -1 }
	all := make([][]Branch, 0, drawn+2)
	for i := range drawn + 2 {
		off := even
		switch i {
		case 0:
			off = high
		case 1:
			off = low
		}
		d := slices.Clone(l.Branches)
		for k := range d {
			d[k].InductanceNH *= 1 + p.CoilTolerance*off()
			d[k].CapacitancePF *= 1 + p.CapacitorTolerance*off()
		}
		if l.ResonatorNH > 0 {
			l.tune(d, func() float64 { return tuned * off() })
		}
		all = append(all, d)
	}
	return all
}

// e24 are the preferred values of a decade: IEC 60063, series E24.
var e24 = [...]float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1}

// NearestE24 returns the preferred value of the series E24 that is nearest by
// ratio; 0 for 0 or less.
func NearestE24(value float64) float64 {
	if !(value > 0) || math.IsInf(value, 1) {
		return 0
	}
	decade := math.Floor(math.Log10(value))
	best := 0.0
	for _, shift := range []float64{-1, 0, 1} { // the nearest may be in the next decade
		for _, v := range e24 {
			// Dividing by a power of ten is exact where multiplying isn't: 0.47.
			p := decade + shift
			c := v * math.Pow(10, p)
			if p < 0 {
				c = v / math.Pow(10, -p)
			}
			if best == 0 || math.Abs(math.Log(value/c)) < math.Abs(math.Log(value/best)) {
				best = c
			}
		}
	}
	return best
}

// Rounded returns the filter with capacitors of the series E24. Each coil keeps
// its value, as it is wound by hand; beside such a capacitor it is changed so that
// the pair stays tuned.
func (l *Ladder) Rounded() *Ladder {
	r := &Ladder{LadderPlan: l.LadderPlan, Branches: slices.Clone(l.Branches)}
	for i := range r.Branches {
		b := &r.Branches[i]
		if b.CapacitancePF == 0 {
			continue
		}
		to := NearestE24(b.CapacitancePF)
		b.InductanceNH *= b.CapacitancePF / to
		b.CapacitancePF = to
	}
	if r.ResonatorNH > 0 {
		r.tune(r.Branches, func() float64 { return 0 })
	}
	r.draws = r.draw()
	return r
}

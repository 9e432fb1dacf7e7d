package radio

import (
	"fmt"
	"math"
)

// A narrow band-pass is made of coils and capacitors across the line that resonate
// in its middle, coupled by small capacitors in the line: a plain ladder would need
// coils that are too small and too large. Source: Matthaei, Young and Jones, section
// 8.11, figures 8.02-4 and 8.11-1 (numbers from memory). The design is for narrow
// bands, up to about a fifth; above the band it takes off less than below.

// tuned is how well a resonator is tuned while measuring, a share of its frequency
// (common practice, no source).
const tuned = 0.002

// middleMHz is the geometric middle of a band-pass.
func (p LadderPlan) middleMHz() float64 { return math.Sqrt(p.LowMHz * p.HighMHz) }

// coupled returns the branches: a capacitor in the line, a resonator across it, a
// capacitor …, a capacitor.
func (p LadderPlan) coupled(g []float64) ([]Branch, error) {
	n := p.Order
	w0 := radians(p.middleMHz())
	width := (p.HighMHz - p.LowMHz) / p.middleMHz()
	ends := 1 / p.SystemOhm                  // S
	slope := 1 / (w0 * p.ResonatorNH * 1e-9) // S: ω0·C of a resonator
	g = append([]float64{1}, g...)           // g0
	between := func(k int) (farad float64) { // resonator k, from 0: the end, and k+1
		if k > 0 && k < n {
			return width * slope / math.Sqrt(g[k]*g[k+1]) / w0
		}
		j := math.Sqrt(ends * slope * width / (g[k] * g[k+1]))
		return j / w0 / math.Sqrt(1-j*j/(ends*ends)) // not a number: coupled more than wholly
	}
	branches := make([]Branch, 2*n+1)
	for k := 0; k <= n; k++ {
		branches[2*k].CapacitancePF = between(k) * 1e12
		if math.IsNaN(branches[2*k].CapacitancePF) {
			return nil, fmt.Errorf("coils of %v nH are too small for so wide a band", p.ResonatorNH)
		}
	}
	for k := 1; k < len(branches); k += 2 {
		own := slope/w0*1e12 - p.coupling(branches, k)
		if own <= 0 {
			return nil, fmt.Errorf("coils of %v nH are too large for %.0f MHz", p.ResonatorNH, p.middleMHz())
		}
		branches[k] = Branch{Across: true, CapacitancePF: own, InductanceNH: p.ResonatorNH}
	}
	return branches, nil
}

// coupling returns what the capacitors beside a resonator add to it, pF: those to
// the ends less, as the ends' resistance is in series with them.
func (p LadderPlan) coupling(branches []Branch, k int) float64 {
	pf := 0.0
	for _, beside := range []int{k - 1, k + 1} {
		c := branches[beside].CapacitancePF
		if beside == 0 || beside == len(branches)-1 {
			x := radians(p.middleMHz()) * c * 1e-12 * p.SystemOhm
			c /= 1 + x*x
		}
		pf += c
	}
	return pf
}

// tune sets the coils of coupled resonators so that each resonates in the middle,
// or off it by a share that off returns.
func (p LadderPlan) tune(branches []Branch, off func() float64) {
	w0 := radians(p.middleMHz())
	for k := 1; k < len(branches); k += 2 {
		w := w0 * (1 + off())
		branches[k].InductanceNH = 1e9 / (w * w * (branches[k].CapacitancePF + p.coupling(branches, k)) * 1e-12)
	}
}

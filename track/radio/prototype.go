package radio

import (
	"fmt"
	"math"
)

// Shape is the kind of a filter's response.
type Shape string

// The shapes. Elliptic ones are left out: they need notch circuits that are hard
// to get right without a network analyser.
const (
	Butterworth Shape = "Butterworth" // as flat as can be
	Chebyshev   Shape = "Chebyshev"   // with ripples of equal height, and steeper
)

// maxOrder is the most elements, or resonators, of a filter that is designed.
const maxOrder = 15

// Prototype returns the normalised values g1 … gn and the load g(n+1) of a
// low-pass filter that starts from a source of 1 and loses edgeDB at 1 rad/s: the
// ripple of a Chebyshev one; of a Butterworth one any loss, 3.0103 for the usual
// table. Orders are 1 to 15, edgeDB is 0.001 to 6.
//
// Source: closed formulas of G. Matthaei, L. Young and E. M. T. Jones, Microwave
// Filters, Impedance-Matching Networks, and Coupling Structures (1964), section
// 4.05, equations 1 to 3 (numbers from memory).
func Prototype(shape Shape, order int, edgeDB float64) ([]float64, error) {
	switch {
	case order < 1 || order > maxOrder:
		return nil, fmt.Errorf("order is %d, want 1 to %d", order, maxOrder)
	case !(edgeDB >= 0.001 && edgeDB <= 6):
		return nil, fmt.Errorf("loss at the edge is %v dB, want 0.001 to 6", edgeDB)
	}
	n := float64(order)
	a := func(k int) float64 { return math.Sin(float64(2*k-1) * math.Pi / (2 * n)) }
	g := make([]float64, order+1)
	g[order] = 1
	switch shape {
	case Butterworth:
		scale := math.Pow(excess(edgeDB), 1/(2*n))
		for k := 1; k <= order; k++ {
			g[k-1] = 2 * a(k) * scale
		}
		return g, nil
	case Chebyshev:
	default:
		return nil, fmt.Errorf("shape is %q, want %s or %s", shape, Butterworth, Chebyshev)
	}
	beta := math.Log(1 / math.Tanh(edgeDB*math.Ln10/40))
	gamma := math.Sinh(beta / (2 * n))
	b := func(k int) float64 { s := math.Sin(float64(k) * math.Pi / n); return gamma*gamma + s*s }
	g[0] = 2 * a(1) / gamma
	for k := 2; k <= order; k++ {
		g[k-1] = 4 * a(k-1) * a(k) / (b(k-1) * g[k-2])
	}
	if order%2 == 0 {
		coth := 1 / math.Tanh(beta/4)
		g[order] = coth * coth
	}
	return g, nil
}

// excess turns a loss in dB into the ratio of powers less one.
func excess(db float64) float64 { return math.Expm1(db / 10 * math.Ln10) }

// OrderFor returns the least order of a filter that loses edgeDB at 1 and at least
// neededDB at over (above 1), of the low-pass prototype; false where 15 are not
// enough. Source: Matthaei, Young and Jones, section 4.03, solved for n.
func OrderFor(shape Shape, edgeDB, over, neededDB float64) (int, bool) {
	if !(over > 1) {
		return 0, false
	}
	r := math.Sqrt(excess(neededDB) / excess(edgeDB))
	n := math.Log(r) / math.Log(over)
	if shape == Chebyshev {
		n = math.Acosh(max(1, r)) / math.Acosh(over)
	}
	order := max(1, math.Ceil(n-1e-9))
	if !(order <= maxOrder) {
		return 0, false
	}
	return int(order), true
}

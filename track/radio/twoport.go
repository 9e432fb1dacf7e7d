package radio

import (
	"math"
	"math/cmplx"
)

// twoPort is a chain (ABCD) matrix: voltage and current at the input from those
// at the output. Parts in a row multiply. Textbook theory, such as G. Matthaei,
// L. Young and E. M. T. Jones, Microwave Filters, Impedance-Matching Networks,
// and Coupling Structures (1964), section 2.
type twoPort struct{ a, b, c, d complex128 }

// through is nothing at all.
var through = twoPort{a: 1, d: 1}

// then puts another part behind.
func (t twoPort) then(o twoPort) twoPort {
	return twoPort{
		t.a*o.a + t.b*o.c, t.a*o.b + t.b*o.d,
		t.c*o.a + t.d*o.c, t.c*o.b + t.d*o.d,
	}
}

// inSeries puts an impedance in Ω behind, in the line's inner conductor.
func (t twoPort) inSeries(ohm complex128) twoPort {
	return twoPort{t.a, t.a*ohm + t.b, t.c, t.c*ohm + t.d}
}

// across puts an admittance in S behind, from the line's inner conductor to its
// shield.
func (t twoPort) across(siemens complex128) twoPort {
	return twoPort{t.a + t.b*siemens, t.b, t.c + t.d*siemens, t.d}
}

// lineOf is a line of an impedance in Ω, with its length times its propagation
// constant (nepers and radians).
func lineOf(ohm float64, gammaL complex128) twoPort {
	z, sinh, cosh := complex(ohm, 0), cmplx.Sinh(gammaL), cmplx.Cosh(gammaL)
	return twoPort{cosh, sinh * z, sinh / z, cosh}
}

// lossDB returns the insertion loss between two equal resistances in Ω: what
// arrives without it against what arrives with it, in dB. A loss beyond
// limitDB is told as limitDB: nothing that is made reaches it.
func (t twoPort) lossDB(ohm float64) float64 {
	r := complex(ohm, 0)
	db := 20 * math.Log10(cmplx.Abs(t.a+t.b/r+t.c*r+t.d)/2)
	if !(db < limitDB) { // an ideal notch is infinite, or not a number
		return limitDB
	}
	return max(db, 0) // rounding may leave -1e-15
}

const limitDB = 200.0

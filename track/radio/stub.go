package radio

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Stub is a piece of coaxial cable across the line at a T-piece. It is as many
// quarter waves long, at the frequency that it takes off, as makes the T-piece a
// short circuit there: an odd number with an open end, an even one with a
// shorted end. It lets through where its length is one quarter wave more or less.
type Stub struct {
	NotchMHz float64 // taken off most
	Quarters int     // its length in quarter waves at NotchMHz, from 1
}

// Shorted returns whether its far end is shorted; else it is open.
func (s Stub) Shorted() bool { return s.Quarters%2 == 0 }

// Words names its kind: "quarter-wave stub, open".
func (s Stub) Words() string {
	size := fmt.Sprintf("%d-quarter-wave", s.Quarters)
	switch s.Quarters {
	case 1:
		size = "quarter-wave"
	case 2:
		size = "half-wave"
	case 4:
		size = "full-wave"
	}
	if s.Shorted() {
		return size + " stub, shorted"
	}
	return size + " stub, open"
}

// LengthMM returns its length in a cable from the middle of the T-piece to the
// end of the shield, mm: as short and as long as the velocity factor's tolerance
// makes it.
func (s Stub) LengthMM(c Coax) Range {
	l := float64(s.Quarters) * c.QuarterWaveMM(s.NotchMHz)
	return Range{l * (1 - c.VelocityTolerance), l * (1 + c.VelocityTolerance)}
}

// admittance returns what it puts across the line at a frequency, S: coth or tanh
// of its length over the cable's impedance (textbook theory of lines). A stub
// longer by a share notches lower by it.
func (s Stub) admittance(c Coax, mhz, longer float64) complex128 {
	metres := float64(s.Quarters) * c.QuarterWaveMM(s.NotchMHz) / 1e3 * (1 + longer)
	tanh := cmplx.Tanh(c.gamma(mhz) * complex(metres, 0))
	y := complex(1/c.ImpedanceOhm, 0)
	if !s.Shorted() {
		return y * tanh
	}
	return y / tanh // of 0: infinite, which lossDB bears
}

// Notch is one stub, or several at T-pieces along a line of the same cable. Two
// equal ones are a pair: a quarter wave apart they take off twice the decibels
// and 6 more.
type Notch struct {
	Cable     Coax
	Stubs     []Stub
	SpacedMHz float64 // neighbours are a quarter wave of this frequency apart
	// SystemOhm is what the line is terminated with at both ends.
	SystemOhm float64
	// Tolerance is the share by which a stub's length may still be off. Trimmed
	// while measuring: Trimmed; cut by the ruler: the cable's tolerance.
	Tolerance float64
}

// Trimmed is how well a stub is trimmed while measuring: 0.4 %, about half a
// millimetre at 430 MHz (common practice, no source).
const Trimmed = 0.004

// SpacingMM returns how far apart the middles of neighbouring T-pieces are, mm.
func (n Notch) SpacingMM() float64 { return n.Cable.QuarterWaveMM(n.SpacedMHz) }

// DBWith returns the loss at a frequency when all lengths are longer by a share.
func (n Notch) DBWith(mhz, longer float64) float64 { return n.dbWith(mhz, longer, longer) }

// dbWith returns it when the first, third … stub and the others differ.
func (n Notch) dbWith(mhz, odd, even float64) float64 {
	line := lineOf(n.Cable.ImpedanceOhm, n.Cable.gamma(mhz)*complex(n.SpacingMM()/1e3, 0))
	t := through
	for i, s := range n.Stubs {
		longer := odd
		if i%2 == 1 {
			longer = even
		}
		if i > 0 {
			t = t.then(line)
		}
		t = t.across(s.admittance(n.Cable, mhz, longer))
	}
	return t.lossDB(n.SystemOhm)
}

// toleranceSteps is in how many steps a tolerance is gone through.
const toleranceSteps = 8

// LossDB implements Response: all that the lengths' tolerance makes possible, with
// all stubs off by the same and with neighbours off the opposite ways.
func (n Notch) LossDB(mhz float64) Range {
	all := Exactly(n.DBWith(mhz, 0))
	if n.Tolerance == 0 {
		return all
	}
	take := func(odd, even float64) {
		db := n.dbWith(mhz, odd, even)
		all = Range{min(all.Low, db), max(all.High, db)}
	}
	for i := range toleranceSteps + 1 {
		longer := n.Tolerance * (2*float64(i)/toleranceSteps - 1)
		take(longer, longer)
		if len(n.Stubs) > 1 {
			take(longer, -longer)
		}
	}
	// Between the steps lie at most the bottoms and tops of a stub's response, where
	// it is a whole number of quarter waves.
	for _, s := range n.Stubs {
		quarters := float64(s.Quarters) * mhz / s.NotchMHz
		if longer := math.Round(quarters)/quarters - 1; math.Abs(longer) <= n.Tolerance {
			take(longer, longer)
		}
	}
	return all
}

// ShortsFeed returns whether a stub is a short circuit for direct current, and so
// for the feed of a preamplifier through the same cable.
func (n Notch) ShortsFeed() bool {
	for _, s := range n.Stubs {
		if s.Shorted() {
			return true
		}
	}
	return false
}

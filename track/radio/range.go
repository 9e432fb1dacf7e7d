package radio

import (
	"fmt"
	"math"
)

// Range is what a value may be: from Low to High. Its unit is that of the name
// it is found under.
type Range struct{ Low, High float64 }

// Exactly is a value that is known.
func Exactly(v float64) Range { return Range{v, v} }

// Mid returns the middle.
func (r Range) Mid() float64 { return (r.Low + r.High) / 2 }

// Known returns whether the ends are the same to a hundredth: a number, not a
// range.
func (r Range) Known() bool { return r.High-r.Low < 0.01 }

// Plus returns the sum with something as uncertain, both at their ends together.
func (r Range) Plus(o Range) Range { return Range{r.Low + o.Low, r.High + o.High} }

// Minus returns the difference: at its lowest when the other is at its highest.
func (r Range) Minus(o Range) Range { return Range{r.Low - o.High, r.High - o.Low} }

// String writes it for people, to whole units where it is wide: "7.2", "3 to
// 15". A level that is -Inf is nothing at all.
func (r Range) String() string {
	switch {
	case math.IsInf(r.High, -1):
		return "nothing"
	case math.IsInf(r.Low, -1):
		return "up to " + Exactly(r.High).String()
	}
	low, high := math.Round(r.Low*10)/10+0, math.Round(r.High*10)/10+0 // + 0: no -0
	switch {
	case r.Known(), low == high:
		return fmt.Sprintf("%.1f", low)
	case high-low < 3:
		return fmt.Sprintf("%.1f to %.1f", low, high)
	}
	return fmt.Sprintf("%.0f to %.0f", math.Round(low)+0, math.Round(high)+0)
}

// sigmaShare is how many standard deviations a range is wide, read as the
// central 80 % of a normal distribution (assumed: P.372 gives its deciles).
const sigmaShare = 2.563

// Figure is a number of a data sheet, or none.
type Figure struct {
	Value float64
	Known bool
}

// Given is a figure that is known.
func Given(v float64) Figure { return Figure{v, true} }

// or returns the figure, or what it may be when it isn't known.
func (f Figure) or(unknown Range) Range {
	if f.Known {
		return Exactly(f.Value)
	}
	return unknown
}

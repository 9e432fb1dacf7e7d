package radio

import (
	"fmt"
	"math"
)

// AirCoil is a coil of one layer without a core.
type AirCoil struct {
	Turns           float64
	DrillMM, WireMM float64 // wound on, and of
	LengthMM        float64 // of the winding, from the first turn's middle to the last's
	InductanceNH    float64
}

// strayPF is a small air coil's own capacitance with its leads (common practice,
// no source).
const strayPF = 0.25

// WindCoil returns a coil of at least one turn of 1 mm wire, as long as leaves a
// wire's width or more between turns, for a drill of 3 to 10 mm. Source: H. A.
// Wheeler, Simple Inductance Formulas for Radio Coils (1928), in inches
// L = r²n²/(9r + 10l) µH, within 1 % for coils longer than 0.8 radii (from memory).
func WindCoil(inductanceNH float64) (AirCoil, error) {
	const wire = 1.0
	for _, drill := range []float64{3, 4, 5, 6, 8, 10} {
		radius := (drill + wire) / 2
		for turns := 1.0; turns <= 12; turns++ {
			// The length that gives the inductance.
			l := (radius*radius*turns*turns*1000/25.4/inductanceNH - 9*radius) / 10
			if l >= 2*wire*turns && l >= 0.8*radius && l <= 5*wire*turns {
				return AirCoil{turns, drill, wire, l, inductanceNH}, nil
			}
		}
	}
	return AirCoil{}, fmt.Errorf("no small air coil has %.1f nH", inductanceNH)
}

// resonanceMHz returns where an inductance resonates with its own capacitance.
func resonanceMHz(inductanceNH, capacitancePF float64) float64 {
	return 1 / (2 * math.Pi * math.Sqrt(inductanceNH*1e-9*capacitancePF*1e-12)) / 1e6
}

// Words tells how to wind it.
func (c AirCoil) Words() string {
	turns := "turns"
	if c.Turns == 1 {
		turns = "turn"
	}
	return fmt.Sprintf("%.0f %s of %.0f mm wire on a %.0f mm drill, %.1f mm long", c.Turns, turns, c.WireMM, c.DrillMM, c.LengthMM)
}

// The limits of what can be made of parts with leads (common practice, no source).
const (
	leastPF = 0.5 // less is in the air between the parts
	leastNH = 4.0 // a straight wire of 5 mm has about as much
)

// Practical returns why a filter can't be made by hand; nil when it can: parts too
// small, or coils that are none at the highest frequency that matters.
func (l *Ladder) Practical(highestMHz float64) error {
	for i, b := range l.Branches {
		switch {
		case b.CapacitancePF > 0 && b.CapacitancePF < leastPF:
			return fmt.Errorf("capacitor %d would have %.2f pF, less than what lies between the parts anyway", i+1, b.CapacitancePF)
		case b.InductanceNH == 0:
		case b.InductanceNH < leastNH:
			return fmt.Errorf("coil %d would have %.1f nH, no more than a piece of wire", i+1, b.InductanceNH)
		case resonanceMHz(b.InductanceNH, strayPF) < 1.5*highestMHz:
			return fmt.Errorf("coil %d of %.0f nH would be a capacitor at %.0f MHz by its own capacitance", i+1, b.InductanceNH, highestMHz)
		default:
			if _, err := WindCoil(b.InductanceNH); err != nil {
				return err
			}
		}
	}
	return nil
}

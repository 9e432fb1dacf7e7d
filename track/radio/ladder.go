package radio

import (
	"fmt"
	"math"
)

// Form is what a filter passes.
type Form string

// The forms.
const (
	LowPass  Form = "low-pass"
	HighPass Form = "high-pass"
	BandPass Form = "band-pass"
)

// LadderPlan is what a filter of coils and capacitors is designed for.
type LadderPlan struct {
	Form  Form
	Shape Shape
	Order int // elements of the prototype; odd, so that both ends are alike
	// The edges of what it passes, MHz, where it loses EdgeDB when made of ideal
	// parts: a low-pass has only HighMHz, a high-pass only LowMHz.
	LowMHz, HighMHz float64
	EdgeDB          float64
	// ResonatorNH makes a band-pass one of coupled resonators with coils of about
	// this inductance, see coupled; its order may be even. 0: a plain ladder.
	ResonatorNH float64
	SystemOhm   float64 // at both ends
	Parts       Parts
}

// Branch is one rung of a ladder: a coil, a capacitor or both. Across the line
// both are in parallel, in the line in series. A value of 0: not there.
type Branch struct {
	Across                      bool
	InductanceNH, CapacitancePF float64
}

// Ladder is a filter of coils and capacitors, from one end to the other. A
// low-pass and a plain band-pass begin with a branch across the line, a high-pass
// with one in it: so that there are fewer coils.
type Ladder struct {
	LadderPlan
	Branches []Branch

	draws [][]Branch // as it may come out; none: as it is
}

// check names the first value that is out of range.
func (p LadderPlan) check() error {
	low, high := p.LowMHz, p.HighMHz
	switch p.Form {
	case LowPass:
		low = 0.01
	case HighPass:
		high = 1e5
	case BandPass:
	default:
		return fmt.Errorf("form of the filter is %q, want %s, %s or %s", p.Form, LowPass, HighPass, BandPass)
	}
	switch {
	case !(low >= 0.01 && low < high && high <= 1e5):
		return fmt.Errorf("edges of the %s filter are %v and %v MHz, want rising ones, 0.01 to 100000", p.Form, p.LowMHz, p.HighMHz)
	case !(p.ResonatorNH >= 0 && p.ResonatorNH <= 1e6):
		return fmt.Errorf("coils of the resonators have %v nH, want 0 to 1e6", p.ResonatorNH)
	case p.ResonatorNH > 0 && p.Form != BandPass:
		return fmt.Errorf("a %s filter has no coupled resonators, a %s has", p.Form, BandPass)
	case p.Order%2 == 0 && p.ResonatorNH == 0:
		return fmt.Errorf("order is %d, want an odd one: others need unequal ends", p.Order)
	case !(p.SystemOhm >= 1 && p.SystemOhm <= 1000):
		return fmt.Errorf("resistance at the ends is %v ohm, want 1 to 1000", p.SystemOhm)
	}
	return p.Parts.check()
}

// Design returns the filter. Source: the transformations of Matthaei, Young and
// Jones, sections 4.09 and 8.02 (numbers from memory).
func (p LadderPlan) Design() (*Ladder, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	g, err := Prototype(p.Shape, p.Order, p.EdgeDB)
	if err != nil {
		return nil, err
	}
	l := &Ladder{LadderPlan: p}
	if p.ResonatorNH > 0 {
		if l.Branches, err = p.coupled(g); err != nil {
			return nil, err
		}
		l.draws = l.draw()
		return l, nil
	}
	l.Branches = make([]Branch, p.Order)
	for i := range l.Branches {
		across := i%2 == 0
		if p.Form == HighPass {
			across = !across
		}
		l.Branches[i] = p.branch(across, g[i])
	}
	l.draws = l.draw()
	return l, nil
}

// branch turns one value of the prototype into parts.
func (p LadderPlan) branch(across bool, g float64) Branch {
	b := Branch{Across: across}
	size := p.SystemOhm // turns a reactance of 1 in the line into ohms
	if across {
		size = 1 / p.SystemOhm // and a susceptance of 1 across it into siemens
	}
	// rising is what grows with frequency: a coil in the line, a capacitor across
	// it; falling the other. Henry or farad.
	var rising, falling float64
	switch p.Form {
	case LowPass:
		rising = g * size / radians(p.HighMHz)
	case HighPass:
		falling = 1 / (g * size * radians(p.LowMHz))
	case BandPass:
		middle := radians(p.middleMHz())
		rising = g * size / (radians(p.HighMHz) - radians(p.LowMHz))
		falling = 1 / (middle * middle * rising)
	}
	if across {
		b.CapacitancePF, b.InductanceNH = rising*1e12, falling*1e9
	} else {
		b.InductanceNH, b.CapacitancePF = rising*1e9, falling*1e12
	}
	return b
}

// radians turns MHz into radians a second.
func radians(mhz float64) float64 { return 2 * math.Pi * mhz * 1e6 }

// behind puts a branch behind a chain matrix, with the loss of its parts: an impedance
// of ωL·(j + 1/Q), an admittance of ωC·(j + 1/Q).
func (b Branch) behind(t twoPort, mhz float64, parts Parts) twoPort {
	w := radians(mhz)
	coil := complex(w*b.InductanceNH*1e-9, 0) * complex(parts.coilLoss(), 1)
	capacitor := complex(w*b.CapacitancePF*1e-12, 0) * complex(parts.capacitorLoss(), 1)
	if b.Across {
		if b.InductanceNH > 0 {
			capacitor += 1 / coil
		}
		return t.across(capacitor)
	}
	if b.CapacitancePF > 0 {
		coil += 1 / capacitor
	}
	return t.inSeries(coil)
}

// NominalDB returns the loss with each part at its nominal value.
func (l *Ladder) NominalDB(mhz float64) float64 { return l.lossOf(l.Branches, mhz) }

func (l *Ladder) lossOf(branches []Branch, mhz float64) float64 {
	t := through
	for _, b := range branches {
		t = b.behind(t, mhz, l.Parts)
	}
	return t.lossDB(l.SystemOhm)
}

// LossDB implements Response: from the least to the most of what the tolerances
// of the parts were drawn to give.
func (l *Ladder) LossDB(mhz float64) Range {
	all := Exactly(l.NominalDB(mhz))
	for _, d := range l.draws {
		db := l.lossOf(d, mhz)
		all = Range{min(all.Low, db), max(all.High, db)}
	}
	return all
}

// Over returns a frequency as the prototype sees it: 1 at the edges, above it
// where the filter stops.
func (p LadderPlan) Over(mhz float64) float64 {
	switch p.Form {
	case LowPass:
		return mhz / p.HighMHz
	case HighPass:
		return p.LowMHz / mhz
	}
	return math.Abs(mhz-p.LowMHz*p.HighMHz/mhz) / (p.HighMHz - p.LowMHz)
}

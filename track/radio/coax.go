package radio

import (
	"fmt"
	"math"
)

// Coax is a coaxial cable to make stubs of.
type Coax struct {
	Name         string
	ImpedanceOhm float64
	// VelocityFactor is the speed in the cable over that in vacuum;
	// VelocityTolerance the share by which a piece may differ from it: 0.02 is 2 %.
	VelocityFactor, VelocityTolerance float64
	// LossDB100m is its attenuation per 100 m at LossMHz. At other frequencies it is
	// taken to grow with the square root of the frequency, as the skin effect does;
	// the dielectric's share, which grows faster, is left out (it is small below 1
	// GHz; common practice). 0: none.
	LossDB100m, LossMHz float64
}

// Cables returns usual kinds of cable, by their dielectric. The figures are common
// practice, from memory: the data sheet of the cable at hand is better.
func Cables() []Coax {
	return []Coax{
		{Name: "50 ohm, solid polyethylene, 5 mm", ImpedanceOhm: 50, VelocityFactor: 0.66, VelocityTolerance: 0.02, LossDB100m: 37, LossMHz: 430},
		{Name: "50 ohm, foamed polyethylene, 5 mm", ImpedanceOhm: 50, VelocityFactor: 0.83, VelocityTolerance: 0.03, LossDB100m: 24, LossMHz: 430},
		{Name: "50 ohm, PTFE, 3 mm", ImpedanceOhm: 50, VelocityFactor: 0.70, VelocityTolerance: 0.02, LossDB100m: 55, LossMHz: 430},
		{Name: "75 ohm, foamed polyethylene, 7 mm", ImpedanceOhm: 75, VelocityFactor: 0.82, VelocityTolerance: 0.03, LossDB100m: 13, LossMHz: 430},
	}
}

// Check names the first value that is out of range.
func (c Coax) Check() error {
	for _, v := range []struct {
		name             string
		value, low, high float64
	}{
		{"impedance (ohm)", c.ImpedanceOhm, 10, 300},
		{"velocity factor", c.VelocityFactor, 0.3, 1},
		{"tolerance of the velocity factor (a share)", c.VelocityTolerance, 0, 0.2},
		{"loss per 100 m (dB)", c.LossDB100m, 0, 1000},
		{"frequency of the loss (MHz)", c.LossMHz, 0, 100_000},
	} {
		if !(v.value >= v.low && v.value <= v.high) { // refuses NaN too
			return fmt.Errorf("cable %q: %s is %v, want %v to %v", c.Name, v.name, v.value, v.low, v.high)
		}
	}
	if c.LossDB100m > 0 && c.LossMHz == 0 {
		return fmt.Errorf("cable %q: its loss of %v dB per 100 m needs the frequency that it is for", c.Name, c.LossDB100m)
	}
	return nil
}

// gamma returns the propagation constant per metre: nepers and radians.
func (c Coax) gamma(mhz float64) complex128 {
	nepers := 0.0
	if c.LossDB100m > 0 {
		nepers = c.LossDB100m * math.Sqrt(mhz/c.LossMHz) / 100 / (20 / math.Ln10)
	}
	return complex(nepers, 2*math.Pi*mhz*1e6/(lightMS*c.VelocityFactor))
}

// QuarterWaveMM returns how long a quarter of a wave is in the cable, mm.
func (c Coax) QuarterWaveMM(mhz float64) float64 {
	return lightMS / (mhz * 1e6) / 4 * c.VelocityFactor * 1e3
}

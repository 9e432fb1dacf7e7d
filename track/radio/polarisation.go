package radio

import "math"

// Polarisation is that of a wave or an antenna; the empty one isn't known.
type Polarisation string

// The polarisations; the twist of a linear one isn't known.
const (
	Linear        Polarisation = "linear"
	RightCircular Polarisation = "right"
	LeftCircular  Polarisation = "left"
)

// crossedDB is the most that is lost between crossed polarisations, which never
// are quite pure: 15 to 25 dB (common practice, no source).
const crossedDB = 20.0

// PolarisationLossDB returns what is lost between two elliptical polarisations.
// Each is told by its ellipticity: minor over major axis, positive right-handed,
// 0 linear, ±1 circular; twistDeg is the angle between the major axes. Without
// end for crossed ones. Source: the usual expression by axial ratios, from
// memory, checked against worked values.
func PolarisationLossDB(ellipticity1, ellipticity2, twistDeg float64) float64 {
	a, b := ellipticity1, ellipticity2
	match := 0.5 + (4*a*b+(1-a*a)*(1-b*b)*math.Cos(2*twistDeg*math.Pi/180))/(2*(1+a*a)*(1+b*b))
	return -decibels(max(match, 0)) + 0 // + 0: no -0
}

// Ellipticity returns minor over major axis for an axial ratio in dB.
func Ellipticity(axialRatioDB float64) float64 { return math.Pow(10, -axialRatioDB/20) }

// axialRatioDB is how far a circular antenna is from circular, at most (common
// practice, no source).
const axialRatioDB = 3.0

// ellipticities returns what a polarisation may be.
func (p Polarisation) ellipticities() []float64 {
	switch p {
	case Linear:
		return []float64{0}
	case RightCircular:
		return []float64{Ellipticity(axialRatioDB), 1}
	case LeftCircular:
		return []float64{-Ellipticity(axialRatioDB), -1}
	}
	return []float64{-1, 0, 1}
}

// LossDB returns what may be lost between a wave and an antenna, whatever their
// twist: a satellite tumbles, and the ionosphere turns the wave. Circular ones
// have an axial ratio of up to 3 dB; no more than 20 dB is ever lost (both
// common practice).
func (p Polarisation) LossDB(antenna Polarisation) Range {
	loss := Range{crossedDB, 0}
	for _, a := range p.ellipticities() {
		for _, b := range antenna.ellipticities() {
			loss.Low = min(loss.Low, PolarisationLossDB(a, b, 0))
			loss.High = max(loss.High, PolarisationLossDB(a, b, 90))
		}
	}
	loss.High = min(loss.High, crossedDB)
	loss.Low = min(loss.Low, loss.High)
	return loss
}

// TwistMatters says whether the twist between a wave and an antenna decides
// what is lost: both are linear, or may be.
func (p Polarisation) TwistMatters(antenna Polarisation) bool {
	maybe := func(p Polarisation) bool { return p == Linear || p == "" }
	return maybe(p) && maybe(antenna)
}

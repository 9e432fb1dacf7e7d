package track

import "math"

// Wrap360 returns an angle in degrees wrapped to [0, 360).
func Wrap360(deg float64) float64 {
	w := math.Mod(deg, 360)
	if w < 0 {
		w += 360
	}
	if w >= 360 { // -1e-20 + 360 rounds up to 360
		w = 0
	}
	return w
}

// TurnDeg returns the shorter turn from one azimuth to another in degrees,
// positive to the right (clockwise), in (-180, 180].
func TurnDeg(fromDeg, toDeg float64) float64 {
	t := Wrap360(toDeg - fromDeg)
	if t > 180 {
		t -= 360
	}
	return t
}

// SeparationDeg returns the angle on the sky between two directions, each
// azimuth and elevation in degrees; 0 to 180. It is exact to rounding at all
// separations (haversine near 0, its complement near 180).
func SeparationDeg(azimuth1Deg, elevation1Deg, azimuth2Deg, elevation2Deg float64) float64 {
	const rad = math.Pi / 180
	e1, e2 := elevation1Deg*rad, elevation2Deg*rad
	sinDE := math.Sin((e2 - e1) / 2)
	sinDA := math.Sin((azimuth2Deg - azimuth1Deg) * rad / 2)
	h := sinDE*sinDE + math.Cos(e1)*math.Cos(e2)*sinDA*sinDA
	return 2 * math.Atan2(math.Sqrt(h), math.Sqrt(math.Max(0, 1-h))) / rad
}

package radio

import "math"

// EnvelopeF699 returns the gain that side lobes stay below, dBi, off the axis
// of an antenna with a gain on it: ITU-R F.699-8, recommends 2.3 (100 MHz to 1
// GHz, D/λ above 0.63: a gain above 3.7 dBi).
func EnvelopeF699(gainDBi, offAxisDeg float64) float64 {
	d := math.Pow(10, (gainDBi-7.7)/20) // D/λ
	g1 := 2 + 15*math.Log10(d)
	main := 20 / d * math.Sqrt(max(0, gainDBi-g1))
	shoulder := 144.5 * math.Pow(d, -0.2)
	switch {
	case offAxisDeg < main:
		return gainDBi - 2.5e-3*d*d*offAxisDeg*offAxisDeg
	case offAxisDeg < 100/d:
		return g1
	case offAxisDeg < shoulder:
		return 52 - 10*math.Log10(d) - 25*math.Log10(offAxisDeg)
	}
	return -2 - 5*math.Log10(d)
}

// patternF1336 returns a typical gain off the axis, dBi, for a width between
// half-power points: ITU-R F.1336-5, recommends 4 (gain below 20 dBi, circular
// symmetry; stated for 1 to 3 GHz, so it is borrowed here).
func patternF1336(gainDBi, widthDeg, offAxisDeg float64) float64 {
	end := 1.9 * widthDeg
	fall := end * math.Pow(10, (gainDBi-6)/32)
	switch {
	case offAxisDeg < 1.08*widthDeg:
		return gainDBi - 12*offAxisDeg*offAxisDeg/(widthDeg*widthDeg)
	case offAxisDeg < end:
		return gainDBi - 14
	case offAxisDeg < fall:
		return gainDBi - 14 - 32*math.Log10(offAxisDeg/end)
	}
	return min(-8, gainDBi-14)
}

package radio

import "math"

const (
	groundK = 290.0
	// spillShare is how much of a Yagi's reception comes by side and back lobes
	// from the ground, at most (common practice, no source).
	spillShare = 0.2
)

// SkyK returns the temperature of the sky in K above 100 MHz away from the
// plane of the galaxy and the sun: (60 ± 20)·λ^2.55, λ in m (C. G. T. Haslam et
// al. 1982, as usually cited). Near the galactic centre it is several times
// more (from memory), which is not in the range.
func SkyK(frequencyMHz float64) Range {
	shape := math.Pow(lightMS/(frequencyMHz*1e6), 2.55)
	return Range{40 * shape, 80 * shape}
}

// AntennaK returns the noise temperature of a Yagi's port in K: sky, the ground
// in the lower part of its beam and in its side lobes, and man-made noise.
//
// The share of the ground is a half with the beam on the horizon (common
// practice) and falls as for a beam shaped like a bell. Man-made noise comes
// from the ground's side: at least that share of it, at most all, as
// for the short antenna near the ground that P.372 means.
func (e Environment) AntennaK(frequencyMHz, elevationDeg, beamwidthDeg float64) Range {
	sigma := beamwidthDeg / math.Sqrt(8*math.Ln2)
	low := math.Erfc(elevationDeg/sigma/math.Sqrt2) / 2
	high := min(1, low+spillShare)
	sky, made := SkyK(frequencyMHz), e.ManMadeDB(frequencyMHz)
	mix := func(ground, sky float64) float64 { return ground*groundK + (1-ground)*sky }
	return Range{
		min(mix(low, sky.Low), mix(high, sky.Low)) + low*t0*ratio(made.Low),
		max(mix(low, sky.High), mix(high, sky.High)) + t0*ratio(made.High),
	}
}

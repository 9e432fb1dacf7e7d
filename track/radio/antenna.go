package radio

import (
	"fmt"
	"math"
)

// Antenna is the one held in the hand.
type Antenna struct {
	GainDBi Figure // on its axis at the wanted frequency; unknown: from the widths
	// The widths between half-power points in its two planes, degrees. How the
	// antenna is twisted isn't known, so both count.
	BeamwidthEDeg, BeamwidthHDeg float64
	Polarisation                 Polarisation
	Pattern                      *Pattern // what the user has measured; nil: nothing
}

const (
	// bandShare is how far from the wanted frequency an antenna is taken to work
	// as built (common practice, no source).
	bandShare = 0.02
	// nullDB is the most that an antenna loses off its axis: reflections fill
	// the nulls (common practice, no source).
	nullDB = 20.0
)

// OutOfBandDBi is the gain of a Yagi in any direction outside its band, as far
// as anybody knows it without a measurement (common practice, no source).
func OutOfBandDBi() Range { return Range{-5, 5} }

// Check names the first value that is out of range.
func (a Antenna) Check() error {
	for _, v := range []struct {
		name             string
		value, low, high float64
	}{
		{"beamwidth in the E plane (deg)", a.BeamwidthEDeg, 1, 180},
		{"beamwidth in the H plane (deg)", a.BeamwidthHDeg, 1, 180},
		{"gain (dBi)", a.GainDBi.Value, -20, 40},
	} {
		if !(v.value >= v.low && v.value <= v.high) { // refuses NaN too
			return fmt.Errorf("antenna: %s is %v, want %v to %v", v.name, v.value, v.low, v.high)
		}
	}
	switch a.Polarisation {
	case "", Linear, RightCircular, LeftCircular:
		return nil
	}
	return fmt.Errorf("antenna: polarisation is %q, want %s, %s or %s", a.Polarisation, Linear, RightCircular, LeftCircular)
}

// axisDBi returns the gain on the axis in the antenna's band; unknown, from the
// widths θ between half-power points, degrees: 10·log(33000/(θE·θH)) to
// 10·log(37000/(θE·θH)), as of the antennas of NBS Technical Note 688 (1976).
func (a Antenna) axisDBi() Range {
	area := a.BeamwidthEDeg * a.BeamwidthHDeg
	return a.GainDBi.or(Range{decibels(33000 / area), decibels(37000 / area)})
}

// widths returns the narrower and the wider.
func (a Antenna) widths() (narrow, wide float64) {
	return min(a.BeamwidthEDeg, a.BeamwidthHDeg), max(a.BeamwidthEDeg, a.BeamwidthHDeg)
}

// WantedDBi returns the gain for the wanted signal off the axis: of the user's
// table if that has the frequency, else a bell-shaped main lobe, from its
// narrower to its wider plane, then the side lobes of ITU-R F.1336 at most and
// 20 dB less than on the axis at least.
func (a Antenna) WantedDBi(frequencyMHz, offAxisDeg float64) Range {
	if g, known := a.Pattern.GainDBi(frequencyMHz, offAxisDeg); known {
		return g
	}
	narrow, wide := a.widths()
	axis := a.axisDBi()
	low := axis.Low - min(12*offAxisDeg*offAxisDeg/(narrow*narrow), nullDB)
	return Range{low, max(low, patternF1336(axis.High, wide, offAxisDeg))}
}

// UnwantedDBi returns the gain for a transmitter off the axis, and whether the
// direction makes a difference. In the antenna's band the envelope of ITU-R
// F.699 is the most; outside it without a table nothing is known but
// OutOfBandDBi.
func (a Antenna) UnwantedDBi(wantedMHz, frequencyMHz, offAxisDeg float64) (Range, bool) {
	if g, known := a.Pattern.GainDBi(frequencyMHz, offAxisDeg); known {
		return g, true
	}
	if math.Abs(frequencyMHz/wantedMHz-1) > bandShare {
		return OutOfBandDBi(), false
	}
	g := a.WantedDBi(wantedMHz, offAxisDeg)
	g.High = max(g.High, EnvelopeF699(a.axisDBi().High, offAxisDeg))
	return g, true
}

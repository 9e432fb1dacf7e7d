package radio

import "math"

// Environment is the kind of surroundings that make man-made noise.
type Environment string

// The environments of ITU-R P.372; an empty one isn't known.
const (
	City        Environment = "city"
	Residential Environment = "residential"
	Rural       Environment = "rural"
	QuietRural  Environment = "quiet_rural"
)

// manMade are the constants of one environment: Fam = c − d·log f, and the
// deciles in time, dB.
type manMade struct {
	c, d, upper, lower float64
	// belowCity is how much less noise than in a city, dB, to carry the older
	// curve for cities over.
	belowCity float64
}

// constants returns those of ITU-R P.372-17, equation (17), Tables 1 and 2.
// Quiet rural has no deciles there: those of rural are used, as the Study
// Group 3 software does.
func (e Environment) constants() (manMade, bool) {
	switch e {
	case City:
		return manMade{76.8, 27.7, 11.0, 6.7, 0}, true
	case Residential:
		return manMade{72.5, 27.7, 10.6, 5.3, 76.8 - 72.5}, true
	case Rural:
		return manMade{67.2, 27.7, 9.2, 4.6, 76.8 - 67.2}, true
	case QuietRural:
		return manMade{53.6, 28.6, 9.2, 4.6, 76.8 - 53.6}, true
	}
	return manMade{}, false
}

// ManMadeMedianDB returns the median external noise figure Fam above kT0B of an
// environment, ITU-R P.372-17 equation (17), stated for 0.3 to 250 MHz (quiet
// rural: to 30), for a short vertical antenna near the ground. Above, it is the
// curve drawn on. The environment must be one of the four.
func (e Environment) ManMadeMedianDB(frequencyMHz float64) float64 {
	m, _ := e.constants()
	return m.c - m.d*math.Log10(frequencyMHz)
}

// CityUHFMedianDB returns Fam of a city by the older ITU-R P.372-8, up to 900
// MHz: 44.3 − 12.3·log f. The newer editions leave it out and give none above
// 250 MHz.
func CityUHFMedianDB(frequencyMHz float64) float64 { return 44.3 - 12.3*math.Log10(frequencyMHz) }

// ManMadeDB returns what man-made noise may be above kT0B: from the lower to
// the upper decile in time. Above 250 MHz no curve is in force: from P.372-17
// drawn on to the older P.372-8, less the step between the environments (ours,
// no source). An unknown environment is any of them.
func (e Environment) ManMadeDB(frequencyMHz float64) Range {
	m, known := e.constants()
	if !known {
		return Range{QuietRural.ManMadeDB(frequencyMHz).Low, City.ManMadeDB(frequencyMHz).High}
	}
	median := e.ManMadeMedianDB(frequencyMHz)
	r := Range{median - m.lower, median + m.upper}
	if frequencyMHz > 250 {
		r.High = max(r.High, CityUHFMedianDB(frequencyMHz)-m.belowCity+m.upper)
	}
	return r
}

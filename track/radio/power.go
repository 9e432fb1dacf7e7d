package radio

import "math"

// Constants: exact by the SI, and the reference temperature of noise figures.
const (
	boltzmann = 1.380649e-23  // J/K
	lightMS   = 299_792_458.0 // m/s
	t0        = 290.0         // K
	// dipoleDB is the gain of a half-wave dipole over an isotropic antenna, dBi.
	dipoleDB = 2.15
)

// ratio turns dB into a ratio of powers; decibels goes back.
func ratio(db float64) float64 { return math.Pow(10, db/10) }

func decibels(ratio float64) float64 { return 10 * math.Log10(ratio) }

// FreeSpaceDB returns the loss in free space between isotropic antennas:
// 20·log(4πdf/c). Source: ITU-R P.525-5, whose rounded 32.4 is 0.048 dB lower.
func FreeSpaceDB(frequencyMHz, distanceKm float64) float64 {
	return 20 * math.Log10(4*math.Pi*distanceKm*1e3*frequencyMHz*1e6/lightMS)
}

// ThermalNoiseDBm returns kTB: T in K, B in Hz.
func ThermalNoiseDBm(temperatureK, bandwidthHz float64) float64 {
	return decibels(boltzmann * temperatureK * bandwidthHz * 1e3)
}

// SumDBm adds powers that have nothing to do with each other. Nothing at all
// is -Inf.
func SumDBm(levelsDBm ...float64) float64 {
	sum := 0.0
	for _, p := range levelsDBm {
		sum += ratio(p)
	}
	return decibels(sum)
}

// EIRPDBm turns a power against a half-wave dipole (ERP) into one against an
// isotropic antenna.
func EIRPDBm(erpDBm float64) float64 { return erpDBm + dipoleDB }

// Temperature returns the noise temperature in K of a noise figure in dB:
// T0·(F − 1).
func Temperature(noiseFigureDB float64) float64 { return t0 * (ratio(noiseFigureDB) - 1) }

// NoiseFigureDB returns the noise figure of a noise temperature in K.
func NoiseFigureDB(temperatureK float64) float64 { return decibels(1 + temperatureK/t0) }

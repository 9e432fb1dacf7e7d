package track

// lightKmS is the speed of light, exact.
const lightKmS = 299792.458

// ReceiveHz returns the frequency at which a signal sent at transmitHz arrives
// from an object with the given range rate (positive: going away). First
// order: the rest is under 0.3 Hz at 437 MHz and 8 km/s.
func ReceiveHz(transmitHz, rangeRateKmS float64) float64 {
	return transmitHz * (1 - rangeRateKmS/lightKmS)
}

package radio

import "math"

// Modulation is how a beacon sends bits.
type Modulation string

// The modulations whose error rate is known in closed form.
const (
	FSKNoncoherent Modulation = "FSK, non-coherent"
	FSKCoherent    Modulation = "FSK, coherent"
	PSK            Modulation = "BPSK, QPSK or MSK, coherent"
	DBPSK          Modulation = "BPSK, differential"
	GMSK           Modulation = "GMSK, coherent, BT 0.25"
)

// BitErrorRate returns the share of bits received wrong for an Eb/N0 in dB: for
// orthogonal FSK ½·exp(−Eb/2N0) and Q(√(Eb/N0)), for PSK Q(√(2Eb/N0)) (J. G.
// Proakis, Digital Communications, as in the teaching pages LNTwww of TU Munich);
// for differential PSK ½·exp(−Eb/N0), for GMSK Q(√(2·0.68·Eb/N0)), from memory.
// NaN for another modulation.
func (m Modulation) BitErrorRate(ebN0DB float64) float64 {
	r := ratio(ebN0DB)
	switch m {
	case FSKNoncoherent:
		return math.Exp(-r/2) / 2
	case FSKCoherent:
		return math.Erfc(math.Sqrt(r/2)) / 2
	case PSK:
		return math.Erfc(math.Sqrt(r)) / 2
	case DBPSK:
		return math.Exp(-r) / 2
	case GMSK:
		return math.Erfc(math.Sqrt(0.68*r)) / 2
	}
	return math.NaN()
}

// RequiredDB returns the Eb/N0 in dB at which a share of the bits (0 to 0.5,
// both excluded) is received wrong.
func (m Modulation) RequiredDB(bitErrorRate float64) float64 {
	low, high := -60.0, 40.0
	for range 60 { // halving
		if mid := (low + high) / 2; m.BitErrorRate(mid) > bitErrorRate {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

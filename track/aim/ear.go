package aim

import "math"

// The model of a beam and an ear.
const (
	// MostLossDB is the most that an antenna loses off its axis: side lobes and
	// reflections fill the rest (common practice, no source).
	MostLossDB = 20.0
	// softDB is how gradually hearing sets in around its threshold: the
	// probability is 1/(1+exp(−margin/softDB)) (assumed, no source).
	softDB = 1.0
	// goodDB and strongDB are the margins from which a burst is called good or
	// strong, wordDB how vague people are about it (assumed, no source).
	goodDB   = 5.0
	strongDB = 12.0
	wordDB   = 2.0
)

// BeamLossDB returns what a beam loses off its axis: 3 dB at half its width
// between the half-power points, with the square of the angle, MostLossDB at most.
func BeamLossDB(offDeg, beamwidthDeg float64) float64 {
	return min(MostLossDB, 12*offDeg*offDeg/(beamwidthDeg*beamwidthDeg))
}

// HeardAs returns the probability that a burst is heard whose margin against
// hearing is known, and called by its strength if one is given.
func HeardAs(marginDB float64, s Strength) float64 {
	p := logistic(marginDB / softDB)
	switch s {
	case Weak:
		return p * (1 - logistic((marginDB-goodDB)/wordDB))
	case Good:
		return p * (logistic((marginDB-goodDB)/wordDB) - logistic((marginDB-strongDB)/wordDB))
	case Strong:
		return p * logistic((marginDB-strongDB)/wordDB)
	}
	return p
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

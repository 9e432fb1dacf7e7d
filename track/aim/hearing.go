package aim

import "math"

// falseRate is how often an operator marks a burst that wasn't, missRate how
// often they miss one that was plain. They keep one wrong mark from ruling out
// the truth (assumed, no source).
const (
	falseRate = 0.003
	missRate  = 0.01
)

// hearing gives the probability that a burst is heard, by the angle between
// the direction meant and the object, and by the margin at boresight: averaged
// over the hand's scatter, the fading, the twist and how high the noise may be.
type hearing struct {
	p [marginSteps + 1][angleSteps + 1]float32
}

// The table's axes: margin from lowDB on, and the sine of half the angle.
const (
	angleSteps  = 256
	marginSteps = 160
	lowDB       = -50.0
	perDB       = 2.0
)

// at returns the table's row for a margin at boresight.
func (h *hearing) at(marginDB float64) *[angleSteps + 1]float32 {
	i := int((marginDB-lowDB)*perDB + 0.5)
	return &h.p[max(0, min(marginSteps, i))]
}

// angleIndex returns a row's index for the cosine of an angle.
func angleIndex(cos float64) int {
	return int(math.Sqrt(max(0, 0.5-0.5*cos))*angleSteps + 0.5)
}

// newHearing averages over one scatter of the hand how likely a burst is heard by
// its mean margin.
func newHearing(beamwidthDeg, handDeg float64, heard func(marginDB float64) float64) *hearing {
	const fine = 4 // steps per dB
	var by [(marginSteps/perDB + MostLossDB + 20) * fine]float64
	for i := range by { // by margin of the burst
		by[i] = heard(lowDB - MostLossDB - 10 + float64(i)/fine)
	}
	h := new(hearing)
	for j := range h.p[0] {
		angle := 2 * math.Asin(float64(j)/angleSteps) / rad
		var losses, weights []float64
		for a, x := range normal {
			for b, y := range normal {
				off := math.Hypot(angle+x*handDeg, y*handDeg)
				if off > 180 {
					off = 360 - off
				}
				losses = append(losses, BeamLossDB(off, beamwidthDeg))
				weights = append(weights, normalWeights[a]*normalWeights[b])
			}
			if handDeg == 0 {
				break
			}
		}
		total := 0.0
		for _, w := range weights {
			total += w
		}
		for i := range h.p {
			margin := lowDB + float64(i)/perDB
			p := 0.0
			for k, loss := range losses {
				x := (margin - loss - (lowDB - MostLossDB - 10)) * fine
				n := min(int(x), len(by)-2)
				f := x - float64(n)
				p += weights[k] / total * (by[n]*(1-f) + by[n+1]*f)
			}
			h.p[i][j] = float32(p)
		}
	}
	return h
}

// normal are the nodes of Gauss-Hermite quadrature with seven points for a
// standard normal distribution, normalWeights their weights.
var (
	normal        = [...]float64{-3.7504397, -2.3667594, -1.1544054, 0, 1.1544054, 2.3667594, 3.7504397}
	normalWeights = [...]float64{5.4826886e-4, 3.0757124e-2, 0.24012318, 0.45714286, 0.24012318, 3.0757124e-2, 5.4826886e-4}
)

// afterFading returns the probability of hearing with a mean margin. Strength
// empty: in any strength.
func afterFading(marginDB, fadingDB float64, twist bool, s Strength) float64 {
	p, total := 0.0, 0.0
	for x := -3.0; x <= 3; x += 0.25 {
		w := math.Exp(-x * x / 2)
		total += w
		if !twist {
			p += w * HeardAs(marginDB+x*fadingDB, s)
			continue
		}
		const angles = 8
		for i := range angles { // the angle between beam and wave is even in a quarter turn
			lost := 20 * math.Log10(math.Cos((float64(i)+0.5)/angles*math.Pi/2))
			p += w / angles * HeardAs(marginDB+x*fadingDB+lost, s)
		}
	}
	return p / total
}

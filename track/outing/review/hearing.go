package review

import (
	"math"

	"foreaim/track/aim"
	"foreaim/track/outing"
)

const rad = math.Pi / 180

// The model of an ear and of who holds the boom, beside aim's (common practice,
// no source).
const (
	// falseMark is how often a burst is marked that wasn't heard, missed how
	// often one that was plain is not.
	falseMark, missed = 0.01, 0.03
	// sensorDeg is the scatter of a sensor, an axis.
	sensorDeg = 3.0
)

// table gives the probability of hearing by the angle between the direction
// held and the satellite, and the margin on the beam's axis.
type table [angles + 1][margins + 1]float32

const (
	angles    = 90 // of 2° each
	angleStep = 180.0 / angles
	margins   = 100
	lowestDB  = -60.0 // one step a dB
)

// newTable averages over the scatter of the hand and the fading: that a burst is
// heard and called by its strength, if one is given.
func newTable(beamwidthDeg, handDeg, fadingDB float64, s outing.Strength) *table {
	const fine, lowest = 2.0, lowestDB - aim.MostLossDB - 5
	var faded [(margins + aim.MostLossDB + 10) * fine]float64
	for i := range faded {
		faded[i] = hearAt(lowest+float64(i)/fine, fadingDB, s)
	}
	nodes, weights := scatter()
	t := new(table)
	for a := range t {
		for i, x := range nodes {
			for j, y := range nodes {
				off := math.Hypot(float64(a)*angleStep+x*handDeg, y*handDeg)
				if off = math.Mod(off, 360); off > 180 {
					off = 360 - off
				}
				loss := aim.BeamLossDB(off, beamwidthDeg)
				w := weights[i] * weights[j]
				for m := range t[a] {
					k := int((lowestDB + float64(m) - loss - lowest) * fine)
					t[a][m] += float32(w * faded[max(0, min(len(faded)-1, k))])
				}
			}
		}
	}
	return t
}

// hearAt averages over the fading.
func hearAt(marginDB, fadingDB float64, s outing.Strength) float64 {
	p, total := 0.0, 0.0
	for x := -2.75; x < 3; x += 0.5 {
		w := math.Exp(-x * x / 2)
		total += w
		p += w * aim.HeardAs(marginDB+x*fadingDB, aim.Strength(s))
	}
	return p / total
}

// scatter returns evenly spaced points of a standard normal distribution and
// their weights.
func scatter() (nodes, weights []float64) {
	total := 0.0
	for x := -2.5; x <= 2.5; x += 0.5 {
		w := math.Exp(-x * x / 2)
		nodes, weights, total = append(nodes, x), append(weights, w), total+w
	}
	for i := range weights {
		weights[i] /= total
	}
	return nodes, weights
}

// of returns the probability for an angle in steps and a margin.
func (t *table) of(angle int, marginDB float64) float32 {
	m := int(marginDB - lowestDB + 0.5)
	return t[angle][max(0, min(margins, m))]
}

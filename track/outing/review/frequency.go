package review

import (
	"math"

	"foreaim/track"
)

// What is usual of frequencies (assumed, no source).
const (
	offsetSigmaHz   = 2000.0  // of sender and receiver together
	untunedSigmaHz  = 10000.0 // where the receiver is off
	measureHz       = 300.0   // of a measurement
	worstDeviations = 12.0    // of one measurement, squared: it may be of something else
)

// offsets is what the measured frequencies say, by time error.
type offsets struct {
	count   int
	likely  [2][]float64 // usual, and where the receiver is off; the largest is 1
	scale   float64      // the natural logarithm of what the largest would be
	meanHz  []float64    // of the measurements less what is expected
	sigmaHz float64      // of the mean
}

func (w *weigher) offsets(late axis) offsets {
	o := offsets{meanHz: make([]float64, len(late.at))}
	for i := range o.likely {
		o.likely[i] = make([]float64, len(late.at))
		for n := range o.likely[i] {
			o.likely[i][n] = 1
		}
	}
	f := w.pass.FrequencyHz
	if f == 0 {
		return o
	}
	var heard []Burst
	for _, b := range w.looked {
		if b.Outcome == Heard && b.FrequencyHz.Known {
			heard = append(heard, b)
		}
	}
	if _, agree := w.pass.straysAgree(); agree { // the beacon, at another time
		for _, b := range w.pass.Strays {
			if b.FrequencyHz.Known {
				heard = append(heard, b)
			}
		}
	}
	o.count = len(heard)
	if o.count == 0 {
		return o
	}
	o.sigmaHz = measureHz / math.Sqrt(float64(o.count))
	best := [2]float64{math.Inf(-1), math.Inf(-1)}
	for n, x := range late.at {
		off := make([]float64, len(heard))
		sum := 0.0
		for i, b := range heard {
			off[i] = b.FrequencyHz.Value - track.ReceiveHz(f, w.look(&b, x).RangeRateKmS)
			sum += off[i]
		}
		mean := sum / float64(len(off))
		o.meanHz[n] = mean
		square := 0.0
		for _, v := range off {
			square += math.Min(worstDeviations, (v-mean)*(v-mean)/measureHz/measureHz)
		}
		for k, sigma := range []float64{offsetSigmaHz, untunedSigmaHz} {
			all := math.Hypot(sigma, o.sigmaHz)
			o.likely[k][n] = -square/2 - mean*mean/(2*all*all) - math.Log(all)
			best[k] = math.Max(best[k], o.likely[k][n])
		}
	}
	o.scale = math.Max(best[0], best[1])
	for k := range o.likely {
		for n := range o.likely[k] {
			o.likely[k][n] = math.Exp(o.likely[k][n] - o.scale)
		}
	}
	return o
}

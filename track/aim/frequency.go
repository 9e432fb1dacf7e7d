package aim

import (
	"math"

	"foreaim/track"
)

const (
	// frequencySigmaHz is how well a person or a receiver measures the
	// frequency of a short burst (assumed, no source).
	frequencySigmaHz = 300.0
	// wrongTuning is how often a measured frequency is of something else,
	// anywhere in wrongBandHz (assumed, no source).
	wrongTuning = 0.03
	wrongBandHz = 30000.0
)

// tune takes a measured frequency into account. What the sender and the
// receiver are off together is estimated along, for each row by itself: it is
// what the measurements so far leave over.
func (g *grid) tune(r *row, s seen, measuredHz float64) {
	left := measuredHz - track.ReceiveHz(g.model.prior.FrequencyHz, s.rateKmS) - r.offsetHz
	variance := r.offsetVar + square(frequencySigmaHz)
	right := (1 - wrongTuning) * math.Exp(-left*left/(2*variance)) / math.Sqrt(2*math.Pi*variance)
	wrong := wrongTuning / wrongBandHz
	cells := g.cells(r)
	for i := range cells {
		cells[i] *= (right + wrong) * wrongBandHz
	}
	// A measurement that is likely of something else neither moves the offset nor
	// makes it surer; one of which that is open leaves it open.
	share, move := right/(right+wrong), left*r.offsetVar/variance
	r.offsetHz += share * move
	r.offsetVar = r.offsetVar*(1-share*r.offsetVar/variance) + share*(1-share)*move*move
}

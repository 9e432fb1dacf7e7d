package radio

import (
	"math"

	"foreaim/track"
)

// work is what strong signals do in the chain, on one side of what is known.
type work struct {
	mw       []float64 // by carrier, at the port
	loads    []float64 // by stage: all carriers at its input, dBm
	peaksDB  []float64 // by stage: how far their peaks are above
	lostDB   []float64 // by stage: of gain
	products float64   // mW at the port, in the channel, like the following
	direct   float64
	mixing   float64
	made     []float64 // by product
}

// reckoned is the work on both sides, and its strongest products.
type reckoned struct {
	work      [len(sides)]work
	strongest []Product
}

const (
	// mostLostDB is where the loss of gain ends that can be told: far beyond
	// compression the model of a cubic no longer holds.
	mostLostDB = 30.0
	// noisyPeakDB is how far digital signals' peaks are above their mean (OFDM 9
	// to 13 dB, common practice), and those of many others together.
	noisyPeakDB = 10.5
)

// GainLossDB returns by how much the gain of a weak signal falls beside strong
// ones of a total power: −20·log|1 − 2·10^((P − IIP3)/10)| of a memoryless
// cubic, with the compression 9.6 dB below its intercept: 1 dB where the total is
// 3 dB below compression. It ends at 30 dB, beyond which nothing can be told.
func GainLossDB(totalDBm, inputP1dBDBm float64) float64 {
	left := 1 - 2*ratio(totalDBm-inputP1dBDBm-cubicDB)
	if left < math.Pow(10, -mostLostDB/20) {
		return mostLostDB
	}
	return -20*math.Log10(left) + 0 // + 0: no -0
}

// work reckons with the antenna pointing somewhere. Each carrier may be weakened
// by a ratio (nil: none is).
func (s *Surroundings) work(azimuthDeg, elevationDeg float64, weaken func(carrier) float64) *reckoned {
	r := new(reckoned)
	gains := make([]Range, len(s.carriers))
	for i, t := range s.carriers {
		off := track.SeparationDeg(azimuthDeg, elevationDeg, t.BearingDeg, t.ElevationDeg)
		if !t.measured {
			gains[i], _ = s.link.Antenna.UnwantedDBi(s.link.MHz(), t.mhz, off)
		}
	}
	for _, end := range sides {
		w := &r.work[end]
		w.mw = make([]float64, len(s.carriers))
		for i, t := range s.carriers {
			w.mw[i] = ratio(end.against(t.IsotropicDBm.Plus(gains[i])))
			if weaken != nil {
				w.mw[i] *= weaken(t)
			}
		}
		s.load(w, end)
		w.made = make([]float64, len(s.products))
		for n := range s.products {
			p := &s.products[n]
			v := p.strength[end] * p.powers(w.mw)
			w.made[n] = v
			w.products += v
		}
		for i, share := range s.direct {
			w.direct += share * w.mw[i]
		}
		// No product can be stronger than all that it is made of.
		w.products = min(w.products, sum(w.mw))
	}
	r.strongest = s.strongest(r.work)
	return r
}

// load reckons what each stage has to bear.
func (s *Surroundings) load(w *work, end side) {
	for k, f := range s.chains[end] {
		total, noisy, together := 0.0, 0.0, 0.0
		for i, p := range w.mw {
			p *= s.gains[end][k][i]
			total += p
			if s.carriers[i].noisy {
				noisy += p
			} else {
				together += math.Sqrt(p) // now and then all are in step
			}
		}
		peak, lost := 0.0, 0.0
		if total > 0 {
			steady := min(together*together, (total-noisy)*ratio(noisyPeakDB))
			peak = decibels((steady + noisy*ratio(noisyPeakDB)) / total)
		}
		if bears := f.bears(); !math.IsInf(bears, 1) {
			lost = GainLossDB(decibels(total), bears)
		}
		if f.phaseNoise.Known {
			w.mixing += total * ratio(f.phaseNoise.Value) * s.link.Mode.BandwidthHz / s.wanted[end][k]
		}
		w.loads, w.peaksDB, w.lostDB = append(w.loads, decibels(total)), append(w.peaksDB, peak), append(w.lostDB, lost)
	}
}

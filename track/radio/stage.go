package radio

import "math"

// Kind is what a stage of the chain is.
type Kind string

// The kinds of stages. A cable, a filter and an attenuator are passive: they
// make no products and their noise figure is their loss.
const (
	Cable        Kind = "cable"
	Filter       Kind = "filter"
	Attenuator   Kind = "attenuator"
	Preamplifier Kind = "preamplifier"
	Receiver     Kind = "receiver"
)

// Response is what a stage takes off at each frequency, such as a filter's
// attenuation: dB, positive for loss; a range where it isn't known better.
type Response interface {
	LossDB(frequencyMHz float64) Range
}

// Stage is one part of the chain between antenna and converter. Figures are at
// its input. Those not known become ranges: see assumed.
type Stage struct {
	Name          string
	Kind          Kind
	GainDB        float64  // negative for a loss
	Response      Response // is taken off GainDB; nil: the same at all frequencies
	NoiseFigureDB Figure
	InputP1dBDBm  Figure // where its gain has fallen by 1 dB
	InputIP3DBm   Figure // third-order intercept
	InputIP2DBm   Figure // second-order intercept; unknown: products can only be named
	FullScaleDBm  Figure // a receiver's input level that fills its converter, at the gain in use
	// PhaseNoiseDBcHz is the oscillator's, at the offset of the strong signals
	// that matter; unknown: no reciprocal mixing is worked out.
	PhaseNoiseDBcHz Figure
	// Bits are the effective ones of a receiver's converter, SampleHz its rate of
	// complex samples; with its full scale they tell its own noise. 0: not known.
	Bits, SampleHz float64
	FeedV          float64 // what a preamplifier is fed with through the cable; 0: not, or not known
}

// passive says whether a stage can't be overloaded.
func (s Stage) passive() bool { return s.Kind != Preamplifier && s.Kind != Receiver }

// cubicDB is how far a memoryless cubic's compression lies below its
// third-order intercept: IP1dB = IIP3 + 10·log(1 − 10^(−1/20)).
const cubicDB = 9.6357

// figures are a stage's with nothing left open.
type figures struct {
	name          string
	kind          Kind
	gainDB        float64 // without the response
	response      Response
	noiseFigureDB float64
	p1dB, ip3     float64 // dBm at the input; +Inf: passive
	ip2           Figure
	perIP3        float64 // 1/mW; 0: passive
	perIP2        float64 // 1/√mW, where ip2 is known
	fullScaleDBm  float64 // +Inf: none
	phaseNoise    Figure
	converterK    float64 // noise of the converter at the input
	end           side
}

// side is one end of what may be.
type side int

const (
	unkind side = iota // all that isn't known is against the operator
	kindly
)

var sides = [...]side{unkind, kindly}

// of returns the end of a range on this side, for a value where more is better.
func (s side) of(r Range) float64 {
	if s == kindly {
		return r.High
	}
	return r.Low
}

// against returns the end for a value where less is better.
func (s side) against(r Range) float64 {
	if s == kindly {
		return r.Low
	}
	return r.High
}

// assumed settles what isn't known about a stage, on one side, for the wanted
// frequency. The ranges are common practice, without a source:
//   - a preamplifier's noise figure 0.5 to 2 dB, its output intercept 20 to 38 dBm;
//   - a portable receiver's noise figure 3.5 to 8 dB; it is overloaded at -60 dBm
//     at full gain and at 0 dBm at least gain, and how its gain is set isn't
//     known; its intercept is 20 dB above that.
//
// Of compression and intercept, one gives the other as in a memoryless cubic.
func (s Stage) assumed(end side, frequencyMHz float64) figures {
	f := figures{
		name: s.Name, kind: s.Kind, gainDB: s.GainDB, response: s.Response, ip2: s.InputIP2DBm,
		phaseNoise: s.PhaseNoiseDBcHz, end: end,
		p1dB: math.Inf(1), ip3: math.Inf(1), fullScaleDBm: math.Inf(1),
	}
	if f.name == "" {
		f.name = string(s.Kind)
	}
	if s.passive() {
		f.noiseFigureDB = end.against(s.NoiseFigureDB.or(Exactly(max(0, -f.gainAt(frequencyMHz)))))
		return f
	}
	noise, ip3 := Range{0.5, 2}, Range{20 - s.GainDB, 38 - s.GainDB}
	if s.Kind == Receiver {
		full := Range{-60, 0}
		noise, ip3 = Range{3.5, 8}, full.Plus(Exactly(20))
		if s.FullScaleDBm.Known {
			ip3 = Exactly(s.FullScaleDBm.Value + 20)
		}
		f.fullScaleDBm = end.of(s.FullScaleDBm.or(full))
		if s.Bits > 0 && s.SampleHz > 0 && s.FullScaleDBm.Known {
			f.converterK = ratio(ConverterNoiseDBm(s.FullScaleDBm.Value, s.Bits, s.SampleHz, 1)-30) / boltzmann
		}
	}
	f.noiseFigureDB = end.against(s.NoiseFigureDB.or(noise))
	if s.InputP1dBDBm.Known {
		ip3 = Exactly(s.InputP1dBDBm.Value + cubicDB)
	}
	f.ip3 = end.of(s.InputIP3DBm.or(ip3))
	f.p1dB = end.of(s.InputP1dBDBm.or(Exactly(f.ip3 - cubicDB)))
	f.perIP3 = 1 / ratio(f.ip3)
	if f.ip2.Known {
		f.perIP2 = 1 / math.Sqrt(ratio(f.ip2.Value))
	}
	return f
}

// ConverterDB returns how far an ideal converter's noise is below a full-scale
// tone: 6.02·bits + 1.76 (W. Kester, tutorial MT-001).
func ConverterDB(bits float64) float64 { return decibels(1.5) + bits*20*math.Log10(2) }

// ConverterNoiseDBm returns that noise in a bandwidth for a full scale in dBm,
// spread over the rate of complex samples.
func ConverterNoiseDBm(fullScaleDBm, bits, sampleHz, bandwidthHz float64) float64 {
	return fullScaleDBm - ConverterDB(bits) - decibels(sampleHz/bandwidthHz)
}

// gainAt returns a stage's gain in dB for the wanted signal.
func (f figures) gainAt(frequencyMHz float64) float64 {
	if f.response == nil {
		return f.gainDB
	}
	return f.gainDB - f.end.against(f.response.LossDB(frequencyMHz))
}

// leakAt returns its gain in dB for an unwanted one, which a response that
// isn't known well may let through.
func (f figures) leakAt(frequencyMHz float64) float64 {
	if f.response == nil {
		return f.gainDB
	}
	return f.gainDB - f.end.of(f.response.LossDB(frequencyMHz))
}

// bears returns the level in dBm that a stage bears: its compression or, before
// that, its converter's full scale; +Inf when it is passive.
func (f figures) bears() float64 { return min(f.p1dB, f.fullScaleDBm) }

package invent

import "math"

const (
	boltzmannDBm = -198.6 // of 1 K in 1 Hz
	wantedMHz    = 437.0
	firstMHz     = 405.0
	stepMHz      = 0.2
	points       = 900 // to 584.8 MHz
)

// carrier is a strong signal at the antenna's port.
type carrier struct{ lowMHz, highMHz, dBm float64 }

// receiver is preamplifier and receiver in one, with what comes in: the third
// power of a cubic, the loss of gain beside strong signals, noise of its own in
// front and behind.
type receiver struct {
	carriers  []carrier
	ip3DBm    float64
	noiseK    float64 // of its own
	behindK   float64 // of what stands after the part that loses gain, seen at the port
	skyK      float64 // by the antenna, ground and people as usual
	outsideK  float64 // more noise by the antenna, near the wanted frequency
	outsideMH float64 // its width in MHz
	roundK    float64 // more noise by the antenna, over all
	insideK   float64 // noise that gets in behind the attenuator
	mixingDBc float64 // the oscillator's noise beside the carriers, dBc/Hz
}

func ratio(dB float64) float64 { return math.Pow(10, dB/10) }
func dB(ratio float64) float64 { return 10 * math.Log10(ratio) }

// lossDB is what a weak signal loses of its gain behind an attenuator.
func (x receiver) lossDB(pad float64) float64 {
	left := 1 - 2*ratio(x.total(pad)-x.ip3DBm)
	if left < 0.05 {
		return 26
	}
	return -20 * math.Log10(left)
}

// total is the power of all carriers behind an attenuator, dBm.
func (x receiver) total(pad float64) float64 {
	sum := 0.0
	for _, c := range x.carriers {
		sum += ratio(c.dBm - pad)
	}
	if sum == 0 {
		return -200
	}
	return dB(sum)
}

// productK is the noise temperature of all products of third order at a
// frequency, as the sum of the tones' formula with 3 dB for noise-like carriers,
// 6 dB more for three different ones, spread over three channels.
func (x receiver) productK(mhz, pad float64) float64 {
	sum := 0.0
	for i, a := range x.carriers {
		for _, b := range x.carriers[i:] {
			for _, c := range x.carriers {
				if c == a || c == b {
					continue
				}
				width := (a.highMHz - a.lowMHz) + (b.highMHz - b.lowMHz) + (c.highMHz - c.lowMHz)
				middle := (a.lowMHz + a.highMHz + b.lowMHz + b.highMHz - c.lowMHz - c.highMHz) / 2
				off := math.Abs(mhz - middle)
				if off >= width/2 {
					continue
				}
				level := a.dBm + b.dBm + c.dBm - 3*pad - 2*x.ip3DBm + 3
				if a != b {
					level += 3
				}
				shape := 1 + math.Cos(2*math.Pi*off/width) // its mean is 1
				sum += shape * ratio(level-dB(width*1e6)-boltzmannDBm)
			}
		}
	}
	// Products end where the receiver does: 10 dB under what they are made of.
	return math.Min(sum, ratio(x.total(pad)-10-dB(30e6)-boltzmannDBm))
}

// mixingK is the oscillator's noise.
func (x receiver) mixingK(pad float64) float64 {
	if x.mixingDBc == 0 {
		return 0
	}
	return ratio(x.total(pad) + x.mixingDBc - boltzmannDBm)
}

// incomingK is what comes by the antenna beside the carriers.
func (x receiver) incomingK(mhz float64) float64 {
	k := x.skyK + x.roundK
	if x.outsideK > 0 && math.Abs(mhz-wantedMHz) < x.outsideMH/2 {
		k += x.outsideK
	}
	return k
}

// shownK is what the receiver shows of noise at a frequency, in terms of its port
// at full gain.
func (x receiver) shownK(mhz, pad float64) float64 {
	front := x.incomingK(mhz)/ratio(pad) + 290*(1-1/ratio(pad)) + x.noiseK + x.productK(mhz, pad) + x.mixingK(pad)
	return front/ratio(x.lossDB(pad)) + x.behindK + x.insideK
}

// shownDB is the level at a frequency with the carriers, dBm in a step.
func (x receiver) shownDB(mhz, pad float64) float64 {
	k := x.shownK(mhz, pad)
	for _, c := range x.carriers {
		share := math.Min(c.highMHz, mhz+stepMHz/2) - math.Max(c.lowMHz, mhz-stepMHz/2)
		if share > 0 {
			k += ratio(c.dBm-pad-x.lossDB(pad)-dB((c.highMHz-c.lowMHz)*1e6)-boltzmannDBm) * share / stepMHz
		}
	}
	return dB(k) + boltzmannDBm + dB(stepMHz*1e6)
}

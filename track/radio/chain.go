package radio

import (
	"fmt"
	"math"
	"slices"
)

// Chain is what lies between the antenna's port and the ear, in the order that
// the signal meets it.
type Chain struct {
	Name   string
	Stages []Stage
}

// Check names the first value that is out of range.
func (c Chain) Check() error {
	for i, s := range c.Stages {
		where := fmt.Sprintf("chain %q, stage %d (%s %q)", c.Name, i+1, s.Kind, s.Name)
		switch s.Kind {
		case Cable, Filter, Attenuator, Preamplifier, Receiver:
		default:
			return fmt.Errorf("chain %q, stage %d: kind is %q, want %s, %s, %s, %s or %s", c.Name, i+1, s.Kind, Cable, Filter, Attenuator, Preamplifier, Receiver)
		}
		if s.passive() && s.GainDB > 0 {
			return fmt.Errorf("%s: its gain is %v dB, want 0 or less: a loss is negative", where, s.GainDB)
		}
		if s.passive() && (s.InputP1dBDBm.Known || s.InputIP3DBm.Known || s.InputIP2DBm.Known) {
			return fmt.Errorf("%s: it can't be overloaded, leave compression and intercepts out", where)
		}
		for _, v := range []struct {
			name      string
			value     Figure
			low, high float64
		}{
			{"gain (dB)", Given(s.GainDB), -100, 100},
			{"noise figure (dB)", s.NoiseFigureDB, 0, 60},
			{"input compression (dBm)", s.InputP1dBDBm, -120, 60},
			{"input intercept of third order (dBm)", s.InputIP3DBm, -120, 80},
			{"input intercept of second order (dBm)", s.InputIP2DBm, -120, 140},
			{"full scale (dBm)", s.FullScaleDBm, -120, 40},
			{"phase noise (dBc/Hz)", s.PhaseNoiseDBcHz, -200, 0},
			{"bits", Given(s.Bits), 0, 32},
			{"rate of samples (Hz)", Given(s.SampleHz), 0, 1e10},
			{"feed (V)", Given(s.FeedV), 0, 60},
		} {
			if v.value.Known && !(v.value.Value >= v.low && v.value.Value <= v.high) { // refuses NaN too
				return fmt.Errorf("%s: %s is %v, want %v to %v", where, v.name, v.value.Value, v.low, v.high)
			}
		}
	}
	return nil
}

// Without returns the chain without its stages of a kind, as when the
// preamplifier is bypassed.
func (c Chain) Without(kind Kind) Chain {
	c.Stages = slices.DeleteFunc(slices.Clone(c.Stages), func(s Stage) bool { return s.Kind == kind })
	return c
}

// Has returns whether the chain has a stage of a kind.
func (c Chain) Has(kind Kind) bool { return c.find(kind) >= 0 }

// find returns the first stage of a kind, -1 where there is none.
func (c Chain) find(kind Kind) int {
	return slices.IndexFunc(c.Stages, func(s Stage) bool { return s.Kind == kind })
}

// Before returns the chain with a stage put in before the first of a kind; at
// the antenna's port where there is none.
func (c Chain) Before(kind Kind, stage Stage) Chain {
	c.Stages = slices.Insert(slices.Clone(c.Stages), max(c.find(kind), 0), stage)
	return c
}

// Variants returns what can be done with the same parts: the chain as it is,
// without its preamplifier, and with it on the other side of the cable.
func (c Chain) Variants() []Chain {
	all := []Chain{c}
	at, cable := c.find(Preamplifier), c.find(Cable)
	if at < 0 {
		return all
	}
	bare := c.Without(Preamplifier)
	bare.Name = c.Name + ", no preamplifier"
	all = append(all, bare)
	if cable < 0 {
		return all
	}
	moved, to, name := c.Without(Preamplifier), bare.find(Cable), c.Name+", preamplifier before the cable"
	if at < cable {
		for i, s := range moved.Stages {
			if s.Kind == Cable {
				to = i + 1
			}
		}
		name = c.Name + ", preamplifier behind the cable"
	}
	moved.Name, moved.Stages = name, slices.Insert(moved.Stages, to, c.Stages[at])
	return append(all, moved)
}

// Cascade is what a chain amounts to, at its input.
type Cascade struct {
	GainDB        float64
	NoiseFigureDB Range
	TemperatureK  Range // T0·(F − 1)
	InputIP3DBm   Range // +Inf: nothing in the chain makes products
	InputP1dBDBm  Range // where the first stage reaches its compression
}

// Cascade works it out at a frequency. Noise: H. T. Friis, F = F1 + (F2 − 1)/G1
// + …; intercept: 1/IIP3 = 1/IIP3₁ + G1/IIP3₂ + … in mW (products add in
// voltage, the worst case), both as in common textbooks.
func (c Chain) Cascade(frequencyMHz float64) Cascade {
	var all Cascade
	for _, end := range sides {
		noise, gain, ip3, p1dB := c.settle(end, frequencyMHz).sum(frequencyMHz, nil)
		set := func(r *Range, better bool, v float64) {
			if better == (end == kindly) {
				r.High = v
			} else {
				r.Low = v
			}
		}
		set(&all.TemperatureK, false, noise)
		set(&all.NoiseFigureDB, false, NoiseFigureDB(noise))
		set(&all.InputIP3DBm, true, ip3)
		set(&all.InputP1dBDBm, true, p1dB)
		all.GainDB += gain / float64(len(sides))
	}
	return all
}

// settled is a chain with nothing left open, on one side.
type settled []figures

func (c Chain) settle(end side, frequencyMHz float64) settled {
	all := make(settled, len(c.Stages))
	for i, s := range c.Stages {
		all[i] = s.assumed(end, frequencyMHz)
	}
	return all
}

// sum returns noise temperature in K, gain in dB, and the intercept and
// compression in dBm, all at the input. Each stage's gain may be less by lost dB.
func (c settled) sum(frequencyMHz float64, lost []float64) (temperatureK, gainDB, ip3DBm, p1dBDBm float64) {
	perMW := 0.0
	p1dBDBm = math.Inf(1)
	for i, f := range c {
		temperatureK += (Temperature(f.noiseFigureDB) + f.converterK) / ratio(gainDB)
		perMW += ratio(gainDB - f.ip3)
		p1dBDBm = min(p1dBDBm, f.p1dB-gainDB)
		gainDB += f.gainAt(frequencyMHz)
		if lost != nil {
			gainDB -= lost[i]
		}
	}
	return temperatureK, gainDB, -decibels(perMW), p1dBDBm
}

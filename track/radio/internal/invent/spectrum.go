// Package invent makes up what a receiver would show, for tests: spectra, and
// the evidence of outings with a known cause. It knows physics and the form of
// the files that people write, and nothing of how they are judged.
package invent

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Band is something on the air with sharp edges.
type Band struct {
	LowMHz, HighMHz float64
	OverDB          float64 // above the floor at its middle
}

// Spectrum is a made-up sweep with what is true of it.
type Spectrum struct {
	FirstMHz, StepMHz float64
	LevelsDB          []float64
	Bands             []Band // by rising frequency; adjacent channels are one
	SpursMHz          []float64
}

// Noisy returns a level as a receiver shows the mean of a number of looks at
// noise: with n degrees of freedom, a gamma distribution.
func Noisy(r *rand.Rand, levelDB float64, looks int) float64 {
	sum := 0.0
	for range looks {
		sum += r.ExpFloat64()
	}
	return levelDB + 10*math.Log10(sum/float64(looks))
}

// NewSpectrum makes one up: 300 to 2000 points of 0.05 to 0.25 MHz; a floor that
// slopes by up to 12 dB and ripples by up to 1 dB either way, noise of 8 to 100
// looks, up to 8 spurs of one or two points; one to three signals of 5 to 10 MHz
// or three adjacent channels without a gap, 8 to 45 dB above the floor, the
// channels up to 6 dB apart, whose tops ripple by up to 1 dB. Edges lie anywhere
// within a point.
func NewSpectrum(r *rand.Rand) Spectrum {
	s := Spectrum{FirstMHz: 400 + 100*r.Float64(), StepMHz: 0.05 + 0.2*r.Float64()}
	n := 300 + r.IntN(1700)
	span := float64(n) * s.StepMHz
	looks := 8 + r.IntN(93)
	base, slope := -95+20*r.Float64(), 24*(r.Float64()-0.5)
	ripple, period, phase := r.Float64(), (0.05+0.45*r.Float64())*span, 2*math.Pi*r.Float64()
	floor := func(mhz float64) float64 {
		x := mhz - s.FirstMHz
		return base + slope*x/span + ripple*math.Sin(2*math.Pi*x/period+phase)
	}
	type part struct {
		low, high, levelDB, ripple, phase float64
	}
	var parts []part
	at := s.FirstMHz + (0.04+0.1*r.Float64())*span
	for range 1 + r.IntN(3) {
		width, channels := 5+5*r.Float64(), 1
		if r.IntN(2) == 0 {
			channels = 3
		}
		high := at + width*float64(channels)
		if high > s.FirstMHz+0.96*span || occupied(s.Bands)+high-at > 0.6*span {
			break
		}
		over := 8 + 37*r.Float64()
		band := Band{at, high, over}
		for k := range channels {
			low := at + width*float64(k)
			level := floor(low+width/2) + over
			if k > 0 {
				level += 6 * r.Float64()
			}
			parts = append(parts, part{low, low + width, level, r.Float64(), 2 * math.Pi * r.Float64()})
		}
		s.Bands = append(s.Bands, band)
		at = high + 1.5 + 0.3*span*r.Float64()
	}
	for i := range n {
		mhz := s.FirstMHz + s.StepMHz*float64(i)
		power := math.Pow(10, floor(mhz)/10)
		for _, p := range parts {
			share := min(p.high, mhz+s.StepMHz/2) - max(p.low, mhz-s.StepMHz/2)
			if share > 0 {
				level := p.levelDB + p.ripple*math.Sin(2*math.Pi*(mhz-p.low)/(p.high-p.low)+p.phase)
				power += share / s.StepMHz * math.Pow(10, level/10)
			}
		}
		s.LevelsDB = append(s.LevelsDB, Noisy(r, 10*math.Log10(power), looks))
	}
	for range r.IntN(9) {
		i := r.IntN(n - 1)
		mhz := s.FirstMHz + s.StepMHz*float64(i)
		// One that touches a band can't be told from it.
		if slices.ContainsFunc(s.Bands, func(b Band) bool {
			return mhz > b.LowMHz-4*s.StepMHz && mhz < b.HighMHz+4*s.StepMHz
		}) || slices.ContainsFunc(s.SpursMHz, func(o float64) bool { return math.Abs(o-mhz) < 6*s.StepMHz }) {
			continue
		}
		level := floor(mhz) + 10 + 30*r.Float64()
		s.LevelsDB[i] = max(s.LevelsDB[i], level)
		if r.IntN(2) == 0 {
			s.LevelsDB[i+1] = max(s.LevelsDB[i+1], level-6)
		}
		s.SpursMHz = append(s.SpursMHz, mhz)
	}
	return s
}

// occupied returns how much of a spectrum is.
func occupied(bands []Band) float64 {
	sum := 0.0
	for _, b := range bands {
		sum += b.HighMHz - b.LowMHz
	}
	return sum
}

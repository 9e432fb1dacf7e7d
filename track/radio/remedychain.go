package radio

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"foreaim/track"
)

const (
	feedCaution = "Switch the preamplifier's supply off before any plug is touched. " +
		"Left on, it puts %s into what the cable is now connected to: " +
		"an antenna that is a short circuit for direct current, or a receiver that can't bear it."
	// padDB is the attenuator that is tried.
	padDB = 10.0
	// passShare is how far from the wanted frequency a small filter passes
	// (common practice, no source).
	passShare = 0.015
)

// filterLossDB is what a small filter takes off in its pass (cavity or helical
// 0.5 to 3 dB, common practice).
var filterLossDB = Range{0.5, 3}

// mostLossDB is as far as a filter's tolerable loss is looked for.
const mostLossDB = 32

// with returns the remedy of another chain.
func (s *Surroundings) with(chain Chain, look track.Look, offAimDeg float64) Remedy {
	link := s.link
	link.Chain = chain
	var incoming []Incoming
	for _, c := range s.carriers {
		incoming = append(incoming, c.Incoming)
	}
	o := NewSurroundings(link, incoming).At(look, offAimDeg)
	return Remedy{HearingMarginDB: o.Level.HearingMarginDB, DecodingMarginDB: o.Level.DecodingMarginDB}
}

// lessGain is an attenuator where it costs least.
func (s *Surroundings) lessGain(look track.Look, offAimDeg float64) (Remedy, bool) {
	if !s.link.Chain.Has(Receiver) || !s.link.Chain.Has(Preamplifier) {
		return Remedy{}, false
	}
	r := s.with(s.link.Chain.Before(Receiver, Stage{Kind: Attenuator, GainDB: -padDB}), look, offAimDeg)
	r.Kind = LessGain
	r.Words = fmt.Sprintf("Put an attenuator of %.0f dB before the receiver, behind the preamplifier, or turn the receiver's gain down by as much.", padDB)
	r.Caution = s.feedCaution()
	return r, true
}

func (s *Surroundings) withoutPreamp(look track.Look, offAimDeg float64) (Remedy, bool) {
	if !s.link.Chain.Has(Preamplifier) {
		return Remedy{}, false
	}
	r := s.with(s.link.Chain.Without(Preamplifier), look, offAimDeg)
	r.Kind, r.Words, r.Caution = NoPreamp, "Take the preamplifier out.", s.feedCaution()
	return r, true
}

// feedCaution says what voltage could go into what.
func (s *Surroundings) feedCaution() string {
	volts := "its voltage"
	for _, stage := range s.link.Chain.Stages {
		if stage.Kind == Preamplifier && stage.FeedV > 0 {
			volts = fmt.Sprintf("%g V", stage.FeedV)
		}
	}
	return fmt.Sprintf(feedCaution, volts)
}

// strongPreamp is one as strong as any: output intercept 38 dBm, compression 22
// dBm (common practice).
func (s *Surroundings) strongPreamp(look track.Look, offAimDeg float64) (Remedy, bool) {
	i := s.link.Chain.find(Preamplifier)
	if i < 0 {
		return Remedy{}, false
	}
	old := s.link.Chain.Stages[i]
	strong := Stage{
		Name: old.Name, Kind: Preamplifier, GainDB: old.GainDB, Response: old.Response, NoiseFigureDB: old.NoiseFigureDB, FeedV: old.FeedV,
		InputIP3DBm: Given(38 - old.GainDB), InputP1dBDBm: Given(22 - old.GainDB + 1),
	}
	if old.InputIP3DBm.Known && old.InputIP3DBm.Value >= strong.InputIP3DBm.Value {
		return Remedy{}, false
	}
	chain := s.link.Chain
	chain.Stages = slices.Clone(chain.Stages)
	chain.Stages[i] = strong
	r := s.with(chain, look, offAimDeg)
	r.Kind, r.Caution = StrongPreamp, s.feedCaution()
	r.Words = fmt.Sprintf("Use a preamplifier as strong as any: at its input an intercept of third order of %.0f dBm and compression at %.0f dBm, with the same gain and noise figure.",
		strong.InputIP3DBm.Value, strong.InputP1dBDBm.Value)
	return r, true
}

// stop is a filter that passes the wanted band.
type stop struct {
	wantedMHz    float64
	lossDB, stop Range
}

func (f stop) passes(frequencyMHz float64) bool {
	return frequencyMHz >= f.wantedMHz*(1-passShare) && frequencyMHz <= f.wantedMHz*(1+passShare)
}

// LossDB implements Response.
func (f stop) LossDB(frequencyMHz float64) Range {
	if f.passes(frequencyMHz) {
		return f.lossDB
	}
	return f.stop
}

// filterFirst works out the filter before the first active stage.
func (s *Surroundings) filterFirst(look track.Look, offAimDeg float64) (Remedy, bool) {
	f := stop{wantedMHz: s.link.MHz(), lossDB: filterLossDB}
	needed, possible := s.needed(look, func(c carrier) bool { return !f.passes(c.mhz) })
	f.stop = Exactly(needed)
	before := Receiver
	if s.link.Chain.Has(Preamplifier) {
		before = Preamplifier
	}
	chain := func(f stop) Chain {
		return s.link.Chain.Before(before, Stage{Name: "filter", Kind: Filter, Response: f})
	}
	r := s.with(chain(f), look, offAimDeg)
	r.Kind = FilterFirst
	r.Words = fmt.Sprintf("Put a filter before the %s that takes off %.0f dB at %s.", before, needed, strings.Join(s.culprits(look, f), ", "))
	if !possible {
		r.Words += " That doesn't bring the noise down by itself: something strong is too near the wanted frequency for a filter."
	}
	r.Words += fmt.Sprintf(" Reckoned with a loss of %s dB in the wanted band; ", filterLossDB) + s.tolerable(look, offAimDeg, f, chain)
	if before == Preamplifier {
		r.Caution = s.feedCaution()
	}
	return r, true
}

// tolerable says what a filter may lose in the wanted band: as much as leaves a
// margin for hearing or, where there is none anyway, as makes it no worse than
// without.
func (s *Surroundings) tolerable(look track.Look, offAimDeg float64, f stop, chain func(stop) Chain) string {
	margin := func(loss float64) float64 {
		f.lossDB = Exactly(loss)
		return s.with(chain(f), look, offAimDeg).HearingMarginDB.Low
	}
	least, words := 0.0, "%.1f dB would still leave a margin."
	if margin(0.5) < 0 {
		least, words = s.At(look, offAimDeg).Level.HearingMarginDB.Low, "above %.1f dB it would hurt more than it helps."
	}
	steps := sort.Search(2*mostLossDB, func(n int) bool { return margin(float64(n+1)/2) < least }) // half decibels
	return fmt.Sprintf(words, float64(steps)/2)
}

// culprits are the bands that have to be taken off: those of the strongest
// products, and what makes a tenth of all power.
func (s *Surroundings) culprits(look track.Look, f stop) []string {
	r := s.work(look.AzimuthDeg, look.ElevationDeg, nil)
	w := &r.work[unkind]
	total := sum(w.mw)
	var in []int
	for i, mw := range w.mw {
		if mw >= total/10 {
			in = append(in, i)
		}
	}
	for n, p := range s.products {
		if w.made[n] < w.products/10 {
			continue
		}
		for _, i := range p.of {
			if i >= 0 {
				in = append(in, int(i))
			}
		}
	}
	slices.Sort(in)
	var bands []string
	for _, i := range slices.Compact(in) {
		if band := s.carriers[i].Band(); !f.passes(s.carriers[i].mhz) && !slices.Contains(bands, band) {
			bands = append(bands, band)
		}
	}
	if len(bands) == 0 {
		return []string{"all other frequencies"}
	}
	return bands
}

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

// filtered returns the chain with a filter before its first active stage, and what
// that is.
func (s *Surroundings) filtered(r Response) (chain Chain, before Kind) {
	before = Receiver
	if s.link.Chain.Has(Preamplifier) {
		before = Preamplifier
	}
	return s.link.Chain.Before(before, Stage{Name: "filter", Kind: Filter, Response: r}), before
}

// filterFirst works out the filter before the first active stage.
func (s *Surroundings) filterFirst(look track.Look, offAimDeg float64) (Remedy, bool) {
	f := stop{wantedMHz: s.link.MHz(), lossDB: filterLossDB}
	needed, possible := s.needed(look, func(c carrier) bool { return !f.passes(c.mhz) })
	f.stop = Exactly(needed)
	chain, before := s.filtered(f)
	r := s.with(chain, look, offAimDeg)
	r.Kind = FilterFirst
	r.Words = fmt.Sprintf("Put a filter before the %s that takes off %.0f dB at %s.", before, needed, strings.Join(s.culprits(look, f), ", "))
	if !possible {
		r.Words += " That doesn't bring the noise down by itself: something strong is too near the wanted frequency for a filter."
	}
	r.Words += fmt.Sprintf(" Reckoned with a loss of %s dB in the wanted band; ", filterLossDB) + s.tolerable(look, offAimDeg, f)
	if before == Preamplifier {
		r.Caution = s.feedCaution()
	}
	return r, true
}

// tolerable says what a filter may lose in the wanted band.
func (s *Surroundings) tolerable(look track.Look, offAimDeg float64, f stop) string {
	db, margin := s.tolerableDB(look, offAimDeg, f)
	if margin {
		return fmt.Sprintf("%.1f dB would still leave a margin.", db)
	}
	return fmt.Sprintf("above %.1f dB it would hurt more than it helps.", db)
}

// tolerableDB returns what a filter may lose in the wanted band, in steps of half a
// decibel: as much as leaves a margin for hearing or, where there is none anyway, as
// makes it no worse than without.
func (s *Surroundings) tolerableDB(look track.Look, offAimDeg float64, f stop) (db float64, leavesMargin bool) {
	margin := func(loss float64) float64 {
		f.lossDB = Exactly(loss)
		chain, _ := s.filtered(f)
		return s.with(chain, look, offAimDeg).HearingMarginDB.Low
	}
	least := 0.0
	leavesMargin = margin(0.5) >= 0
	if !leavesMargin {
		least = s.At(look, offAimDeg).Level.HearingMarginDB.Low
	}
	steps := sort.Search(2*mostLossDB, func(n int) bool { return margin(float64(n+1)/2) < least })
	return float64(steps) / 2, leavesMargin
}

// culprits are the bands that have to be taken off.
func (s *Surroundings) culprits(look track.Look, f stop) []string {
	var bands []string
	for _, i := range s.culpritCarriers(look, f) {
		if band := s.carriers[i].Band(); !slices.Contains(bands, band) {
			bands = append(bands, band)
		}
	}
	if len(bands) == 0 {
		return []string{"all other frequencies"}
	}
	return bands
}

// culpritCarriers are the carriers that a filter has to take off: those of the
// strongest products, and what makes a tenth of all power.
func (s *Surroundings) culpritCarriers(look track.Look, f stop) []int {
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
	return slices.DeleteFunc(slices.Compact(in), func(i int) bool { return f.passes(s.carriers[i].mhz) })
}

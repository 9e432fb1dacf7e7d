package radio

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"foreaim/track"
)

// Survey is what follows from what was seen on the receiver.
type Survey struct {
	Unit     string   // of levels: dBm at the antenna's port, or dB against nothing
	Signals  []Signal // the strongest first
	Overload *Overload
	Products []Product // that fall on the channel; levels only with an Overload
	Cause    Diagnosis
	Remedies []Remedy // best first
	Advice   string   // sums them up; may be empty
	Notes    []string // what can't be concluded
}

// Signal is a band that was seen, with what it may be.
type Signal struct {
	Band
	Candidates []Candidate // best first; none for what the receiver made itself
	Drop       *Drop       // behind an attenuator; nil where nobody looked
	Setting    Setting     // at which it was seen
}

// Asked is what a survey starts from.
type Asked struct {
	Seen Seen
	// Evidence is what the record of the outing adds: Noise and the answers. The
	// rest is filled in from what was seen.
	Evidence Evidence
	Plan     *Plan // nil: no channel is named
	// Link is the beacon and the chain. Only its frequency and its mode's
	// bandwidth are needed; without stages nothing is reckoned.
	Link Link
	// Known are transmitters as they arrive here. They name what was seen, and
	// are reckoned with where levels are relative.
	Known []Incoming
	// Look is where the beacon is to be heard; without a range at 30° and 1000 km.
	Look track.Look
}

const (
	// readMHz is how well an edge is read by eye, at most a tenth of the width.
	readMHz = 0.5
	// calibratedDB is how far off a calibrated level may be (common practice).
	calibratedDB = 3.0
	// mixed is how many signals are tried for products, and mixedDB how far they
	// may be below the strongest.
	mixed   = 16
	mixedDB = 35.0
	// channelSteps on either side of the channel count as the channel in a sweep.
	channelSteps = 4.0
)

// NewSurvey works it out.
func NewSurvey(a Asked) (Survey, error) {
	if !(a.Link.FrequencyHz >= 1e6 && a.Link.FrequencyHz <= 1e11 && a.Link.Mode.BandwidthHz > 0) {
		return Survey{}, fmt.Errorf("survey: the wanted frequency is %v Hz and its bandwidth %v Hz, want 1e6 to 1e11 Hz and a bandwidth", a.Link.FrequencyHz, a.Link.Mode.BandwidthHz)
	}
	s := Survey{Unit: a.Seen.Unit()}
	e := a.Evidence
	stepMHz := s.look(a, &e)
	s.identify(a, stepMHz)
	for _, g := range s.Signals {
		if g.Drop != nil && !a.Link.channel().has(g.Band) { // what is on the channel counts as its floor
			e.Drops = append(e.Drops, *g.Drop)
		}
	}
	s.mix(a, &e)
	if err := s.reckon(a, &e); err != nil {
		return Survey{}, err
	}
	s.Cause = Diagnose(e)
	s.note(a, e)
	return s, nil
}

// identify says what each may be.
func (s *Survey) identify(a Asked, stepMHz float64) {
	known := make([]Transmitter, len(a.Known))
	for i, k := range a.Known {
		known[i] = k.Transmitter
	}
	plan := a.Plan
	if plan == nil {
		plan = new(Plan)
	}
	for i := range s.Signals {
		g := &s.Signals[i]
		step := stepMHz
		if len(a.Seen.Sweeps) == 0 {
			step = min(step, max(0.1*(g.HighMHz-g.LowMHz), 0.01))
		}
		if g.real() {
			g.Candidates = plan.Identify(g.Band, step, known)
		}
	}
	slices.SortStableFunc(s.Signals, func(x, y Signal) int { return cmp.Compare(y.Level, x.Level) })
}

// name is what to call a signal in a few words.
func (g Signal) name() string {
	if len(g.Candidates) == 0 || g.Candidates[0].Fit != EdgesFit {
		return "signal"
	}
	words := g.Candidates[0].Words
	if k := strings.LastIndex(words, ", "); k > 0 { // without its band, or how many they are
		words = words[:k]
	}
	return words
}

// real says whether a signal is on the air, as far as is known.
func (g Signal) real() bool { return g.Drop == nil || g.Drop.Origin != InReceiver }

// portLevel is what it is at the antenna's port.
func (g Signal) portLevel() float64 { return g.Level + g.Setting.AttenuatorDB }

// incoming returns the strong signals beside the channel as they arrive at the
// port, in dBm or in relative dB.
func (s *Survey) incoming(c channel) []Incoming {
	var all []Incoming
	for _, g := range s.Signals {
		if !g.real() || c.has(g.Band) || len(all) == mixed || len(all) > 0 && g.portLevel() < all[0].IsotropicDBm.Mid()-mixedDB {
			continue
		}
		all = append(all, Incoming{
			Transmitter:  Transmitter{Name: g.name(), LowMHz: g.LowMHz, HighMHz: g.HighMHz},
			IsotropicDBm: Range{g.portLevel() - calibratedDB, g.portLevel() + calibratedDB}, measured: true,
		})
	}
	return all
}

// mix finds what the signals can make together on the channel, the likeliest
// strongest first: levels are reckoned elsewhere, if at all.
func (s *Survey) mix(a Asked, e *Evidence) {
	c := a.Link.channel()
	var carriers []carrier
	for _, in := range s.incoming(c) {
		carriers = append(carriers, carrier{Incoming: in, mhz: in.MiddleMHz(), width: in.HighMHz - in.LowMHz, noisy: in.noiseLike()})
		e.Strong = append(e.Strong, fmt.Sprintf("%s %s", in.Name, in.Band()))
	}
	e.Strong = e.Strong[:min(3, len(e.Strong))]
	type found struct {
		Product
		level float64
	}
	var all []found
	keep := func(p product, shape spread) {
		level := decibels(p.strength[unkind] * c.share(shape))
		for _, i := range p.of {
			if i >= 0 {
				level += carriers[i].IsotropicDBm.Mid()
			}
		}
		if math.IsInf(level, -1) {
			return
		}
		all = append(all, found{Product{Words: p.words(carriers), Order: int(p.order), LowMHz: p.low, HighMHz: p.high}, level})
	}
	third(carriers, c, keep)
	second(carriers, c, keep)
	slices.SortStableFunc(all, func(x, y found) int {
		return cmp.Or(cmp.Compare(y.Order, x.Order), cmp.Compare(y.level, x.level))
	})
	for _, f := range all[:min(listed, len(all))] {
		s.Products = append(s.Products, f.Product)
		if len(e.Makers) < 3 {
			e.Makers = append(e.Makers, f.Words)
		}
	}
}

// reckon works out the overload and the remedies, from levels in dBm or from the
// transmitters that are known.
func (s *Survey) reckon(a Asked, e *Evidence) error {
	all := s.incoming(a.Link.channel())
	measured := a.Seen.Absolute && len(all) > 0
	if !measured {
		all = a.Known
	}
	if len(a.Link.Chain.Stages) == 0 || len(all) == 0 {
		return nil
	}
	if err := a.Link.Check(); err != nil {
		return err
	}
	if a.Look.RangeKm == 0 {
		a.Look = track.Look{ElevationDeg: expectedElevationDeg, RangeKm: 1000}
	}
	advice := NewSurroundings(a.Link, all).Advise(a.Look, 0)
	s.Overload, e.Reckoned = &advice.Now, &advice.Now
	s.Advice = advice.Words
	if len(advice.Now.Products) > 0 {
		s.Products = advice.Now.Products
	}
	s.Remedies = advice.Remedies
	if measured { // nobody knows where they come from
		s.Remedies = slices.DeleteFunc(s.Remedies, func(r Remedy) bool { return r.Kind == FurtherAway || r.Kind == OtherPass })
	}
	return nil
}

// note says what can't be concluded.
func (s *Survey) note(a Asked, e Evidence) {
	if !a.Seen.Absolute {
		s.Notes = append(s.Notes, "Levels are relative: which signal is the stronger, and what the receiver made itself, can be told; how near it all is to overload, and what a remedy would bring, can't.")
	}
	switch {
	case !e.Looked:
		s.Notes = append(s.Notes, "Too little was seen to find any signal: a sweep needs 32 points at least.")
	case len(e.Drops) == 0 && e.Floor == nil:
		s.Notes = append(s.Notes, "Nothing was seen behind an attenuator: what the receiver made itself can't be told from what is on the air. Sweep again with 10 to 20 dB in front of everything, at the same gain.")
	default:
		s.Notes = append(s.Notes, "All this holds only if the receiver's gain was the same in both sweeps.")
	}
	if a.Seen.Absolute {
		s.Notes = append(s.Notes, "Levels are taken to be right to 3 dB (common practice).")
	}
	if len(a.Seen.Sweeps) > 0 && a.Seen.Absolute {
		s.Notes = append(s.Notes, "A point of a sweep is taken for the power around its frequency, half way to the next.")
	}
	if s.Overload != nil && !(a.Seen.Absolute && len(s.Signals) > 0) {
		s.Notes = append(s.Notes, "What is reckoned rests on the known transmitters, not on the levels seen.")
	}
}

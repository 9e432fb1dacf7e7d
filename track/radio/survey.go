package radio

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
	Candidates []Candidate // best first
	Drop       *Drop       // behind an attenuator; nil where nobody looked
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
		if g.Drop != nil {
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

// look takes signals, their drops and the channel's floor from what was seen. It
// returns how well edges are known.
func (s *Survey) look(a Asked, e *Evidence) (stepMHz float64) {
	c := a.Link.channel()
	if len(a.Seen.Sweeps) == 0 {
		s.peaks(a.Seen.Peaks)
		e.Looked = len(a.Seen.Peaks) > 0
		for _, g := range s.Signals {
			e.Stands = e.Stands || c.touches(g.LowMHz, g.HighMHz) || g.LowMHz == g.HighMHz && g.LowMHz >= c.lowMHz && g.LowMHz <= c.highMHz
		}
		return readMHz
	}
	for i, pair := range pairs(a.Seen.Sweeps) {
		plain := pair.plain.Occupied()
		stepMHz = max(stepMHz, plain.StepMHz)
		onIt := plain.around(c)
		var drops []Drop
		if pair.padded != nil {
			behind := pair.padded.Occupied()
			drops = Drops(plain, behind)
			if d, both := FloorDrop(plain, behind, onIt.lowMHz, onIt.highMHz); both && e.Floor == nil {
				e.Floor = &d
				e.StillStands = behind.stands(c)
			}
		}
		for _, b := range slices.Concat(plain.Bands, plain.narrow()) {
			g := Signal{Band: b}
			if k := slices.IndexFunc(drops, func(d Drop) bool { return d.LowMHz == b.LowMHz }); k >= 0 {
				g.Drop = &drops[k]
			}
			if i == 0 || !slices.ContainsFunc(s.Signals, func(o Signal) bool { return o.LowMHz < b.HighMHz && b.LowMHz < o.HighMHz }) {
				s.Signals = append(s.Signals, g)
			}
		}
		e.Stands = e.Stands || plain.stands(c)
		e.Looked = e.Looked || len(plain.parts) > 0
	}
	return stepMHz
}

// stands says whether anything stands out of a sweep on a channel.
func (o Occupancy) stands(c channel) bool {
	return slices.ContainsFunc(o.Bands, func(b Band) bool { return c.touches(b.LowMHz, b.HighMHz) }) ||
		slices.ContainsFunc(o.Lines, func(l Point) bool { return l.MHz > c.lowMHz-o.StepMHz && l.MHz < c.highMHz+o.StepMHz })
}

// around returns what of a sweep stands for a channel: some points on either side
// of it, or those of the band or the line that covers it.
func (o Occupancy) around(c channel) channel {
	wide := channel{lowMHz: c.lowMHz - channelSteps*o.StepMHz, highMHz: c.highMHz + channelSteps*o.StepMHz}
	for _, b := range o.Bands {
		if c.touches(b.LowMHz, b.HighMHz) {
			wide.lowMHz, wide.highMHz = b.LowMHz, b.HighMHz
		}
	}
	for _, l := range o.Lines {
		if l.MHz > c.lowMHz-2*o.StepMHz && l.MHz < c.highMHz+2*o.StepMHz {
			wide.lowMHz, wide.highMHz = l.MHz-o.StepMHz/2, l.MHz+o.StepMHz/2
		}
	}
	return wide
}

// peaks takes signals from what was read by eye, each at its least attenuation
// and in the direction where it was strongest.
func (s *Survey) peaks(all []Peak) {
	drops := PeakDrops(all)
	for _, p := range all {
		g := Signal{Band: Band{LowMHz: p.LowMHz, HighMHz: p.HighMHz, Level: p.Level, TopLevel: p.Level}}
		for k := range drops {
			if drops[k].LowMHz == p.LowMHz && drops[k].HighMHz == p.HighMHz {
				g.Drop = &drops[k]
			}
		}
		at := slices.IndexFunc(s.Signals, func(o Signal) bool { return o.LowMHz <= p.HighMHz && p.LowMHz <= o.HighMHz })
		switch {
		case at < 0:
			s.Signals = append(s.Signals, g)
		case p.Level > s.Signals[at].Level:
			g.Drop = cmp.Or(g.Drop, s.Signals[at].Drop)
			s.Signals[at] = g
		}
	}
}

// pair is a sweep and what it is behind an attenuator, if that was taken.
type pair struct{ plain, padded *Sweep }

// pairs returns the sweep of least attenuation for each way of holding the
// antenna and of the preamplifier, those with a second one first. Of several
// attenuators the smallest tells most: products fall into the noise soon.
func pairs(sweeps []Sweep) []pair {
	var all []pair
	for i := range sweeps {
		s := &sweeps[i]
		at := slices.IndexFunc(all, func(p pair) bool {
			return p.plain.AzimuthDeg == s.AzimuthDeg && p.plain.Preamplifier == s.Preamplifier
		})
		if at < 0 {
			all = append(all, pair{plain: s})
			continue
		}
		p := &all[at]
		if s.AttenuatorDB < p.plain.AttenuatorDB {
			p.plain, s = s, p.plain
		}
		if p.padded == nil || s.AttenuatorDB < p.padded.AttenuatorDB {
			p.padded = s
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		switch {
		case a.padded != nil && b.padded == nil:
			return -1
		case a.padded == nil && b.padded != nil:
			return 1
		}
		return 0
	})
	return all
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
		g.Candidates = plan.Identify(g.Band, step, known)
	}
	slices.SortStableFunc(s.Signals, func(x, y Signal) int { return cmp.Compare(y.Level, x.Level) })
}

// name is what to call a signal in a few words.
func (g Signal) name() string {
	if len(g.Candidates) > 0 && g.Candidates[0].Fit == EdgesFit {
		c := g.Candidates[0]
		if c.Source == "" {
			return "" // the transmitter's own words have its band
		}
		return c.Words
	}
	return "signal"
}

// real says whether a signal is on the air, as far as is known.
func (g Signal) real() bool { return g.Drop == nil || g.Drop.Origin != InReceiver }

// incoming returns the strong signals beside the channel as they arrive at the
// port, in dBm or in relative dB.
func (s *Survey) incoming(c channel) []Incoming {
	var all []Incoming
	for _, g := range s.Signals {
		if !g.real() || c.touches(g.LowMHz, g.HighMHz) || len(all) == mixed || len(all) > 0 && g.Level < all[0].IsotropicDBm.Mid()-mixedDB {
			continue
		}
		all = append(all, Incoming{
			Transmitter:  Transmitter{Name: g.name(), LowMHz: g.LowMHz, HighMHz: g.HighMHz},
			IsotropicDBm: Range{g.Level - calibratedDB, g.Level + calibratedDB}, measured: true,
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
	if len(a.Seen.Sweeps) > 0 && a.Seen.Absolute {
		s.Notes = append(s.Notes, "A point of a sweep is taken for the power around its frequency, half way to the next.")
	}
	if s.Overload != nil && !(a.Seen.Absolute && len(s.Signals) > 0) {
		s.Notes = append(s.Notes, "What is reckoned rests on the known transmitters, not on the levels seen.")
	}
}

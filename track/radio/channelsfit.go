package radio

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Candidate is what a band may be.
type Candidate struct {
	Words           string   // "TV channels 24 to 26, 3 adjacent"
	Channels        []string // of a table of channels, in order; empty for the others
	LowMHz, HighMHz float64
	Fit             Fit
	// How far the band's edges are above its own: a signal that fills its channel
	// begins a little above and ends a little below.
	LowOffMHz, HighOffMHz float64
	Where, State          string // may be empty
	Source, Check         string // of the table; empty for a transmitter of the user's
}

// Adjacent says whether it is several channels without a gap.
func (c Candidate) Adjacent() bool { return len(c.Channels) > 1 }

// Fit is how a candidate goes with a band.
type Fit string

// The fits, best first.
const (
	EdgesFit   Fit = "edges fit"
	PartOfIt   Fit = "part of it"
	LiesWithin Fit = "lies within"
)

var fits = []Fit{EdgesFit, PartOfIt, LiesWithin}

const (
	// guardShare of its channel a signal may leave empty on either side: digital
	// television fills 0.90 to 0.95 of it (from memory).
	guardShare = 0.07
	// looseMHz is how far an edge may be outside by the sender's own slopes.
	looseMHz = 0.1
	// gapMHz is the most between two blocks of digital radio that are neighbours.
	gapMHz = 0.4
)

// Identify returns what a band may be, best first: a channel or several adjacent
// ones whose edges fit, transmitters that the user knows, and services that it
// lies within. An edge is known to stepMHz; one at the end of a sweep isn't.
func (p *Plan) Identify(b Band, stepMHz float64, known []Transmitter) []Candidate {
	var all []Candidate
	for _, r := range p.rasters {
		all = append(all, r.identify(b, stepMHz)...)
	}
	for _, t := range known {
		if c, fits := t.identify(b, stepMHz); fits {
			all = append(all, c)
		}
	}
	for _, a := range p.services {
		if c := a.candidate(b, stepMHz); c.Fit != "" {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(x, y Candidate) int {
		return cmp.Or(
			cmp.Compare(slices.Index(fits, x.Fit), slices.Index(fits, y.Fit)),
			cmp.Compare(x.rank(), y.rank()),
			cmp.Compare(len(x.Channels), len(y.Channels)), // the simpler
			cmp.Compare(x.off(), y.off()),
			cmp.Compare(x.HighMHz-x.LowMHz, y.HighMHz-y.LowMHz),
		)
	})
	return all
}

// rank puts what the user knows first and what was cleared last.
func (c Candidate) rank() int {
	switch {
	case c.Source == "":
		return 0
	case strings.HasPrefix(c.State, "historical"), strings.HasPrefix(c.State, "reserved"):
		return 2
	}
	return 1
}

// off is how well edges fit, in MHz; 0 for those that needn't.
func (c Candidate) off() float64 {
	if c.Fit != EdgesFit {
		return 0
	}
	// To a hundredth, so that equals stay in the order of the tables.
	return math.Round(100*(math.Abs(c.LowOffMHz)+math.Abs(c.HighOffMHz))) / 100
}

// identify returns the channels, and runs of adjacent ones, whose edges fit.
func (r raster) identify(b Band, stepMHz float64) []Candidate {
	var all []Candidate
	for i, first := range r.channels {
		guard := guardShare * (first.highMHz - first.lowMHz)
		low := b.LowMHz - first.lowMHz
		if b.OpenLow {
			if b.LowMHz < first.lowMHz || b.LowMHz >= first.highMHz {
				continue
			}
			low = 0
		}
		if low < -stepMHz-looseMHz || low > guard+stepMHz {
			continue
		}
		for k := i; k < len(r.channels); k++ {
			last := r.channels[k]
			if k > i && math.Abs(last.lowMHz-r.channels[k-1].highMHz) > gapMHz {
				break
			}
			high := b.HighMHz - last.highMHz
			if b.OpenHigh {
				if b.HighMHz <= last.lowMHz || b.HighMHz > last.highMHz {
					continue
				}
				high = 0
			}
			if high <= stepMHz+looseMHz && high >= -guard-stepMHz {
				all = append(all, r.candidate(i, k, low, high))
			}
		}
	}
	return all
}

// candidate words the channels from i to k.
func (r raster) candidate(i, k int, lowOff, highOff float64) Candidate {
	first, last := r.channels[i], r.channels[k]
	c := Candidate{
		Words: r.what + " " + first.name, LowMHz: first.lowMHz, HighMHz: last.highMHz, Fit: EdgesFit,
		LowOffMHz: lowOff, HighOffMHz: highOff,
		Where: first.where, State: first.state, Source: first.source, Check: first.check,
	}
	for _, a := range r.channels[i : k+1] {
		c.Channels = append(c.Channels, a.name)
		if c.rank() < (Candidate{State: a.state, Source: a.source}).rank() {
			c.State = a.state
		}
		if !strings.HasPrefix(a.check, "verified") {
			c.Check = a.check
		}
	}
	if k > i {
		c.Words = fmt.Sprintf("%s %s to %s, %d adjacent", r.plural, first.name, last.name, k-i+1)
	}
	return c
}

// candidate says how a service goes with a band; no fit when it doesn't.
func (a allocation) candidate(b Band, stepMHz float64) Candidate {
	c := Candidate{
		Words: a.name, LowMHz: a.lowMHz, HighMHz: a.highMHz, LowOffMHz: b.LowMHz - a.lowMHz, HighOffMHz: b.HighMHz - a.highMHz,
		Where: a.where, State: a.state, Source: a.source, Check: a.check,
	}
	slack := stepMHz + looseMHz
	if c.LowOffMHz >= -slack && c.HighOffMHz <= slack {
		c.Fit = LiesWithin
	}
	return c
}

// identify says how a transmitter goes with a band; false when it doesn't.
func (t Transmitter) identify(b Band, stepMHz float64) (Candidate, bool) {
	c := Candidate{
		Words: t.Name + ", " + t.Band(), LowMHz: t.LowMHz, HighMHz: t.HighMHz,
		LowOffMHz: b.LowMHz - t.LowMHz, HighOffMHz: b.HighMHz - t.HighMHz,
	}
	guard := guardShare*(t.HighMHz-t.LowMHz) + stepMHz + looseMHz
	common := min(b.HighMHz, t.HighMHz) - max(b.LowMHz, t.LowMHz)
	switch {
	case math.Abs(c.LowOffMHz) <= guard && math.Abs(c.HighOffMHz) <= guard:
		c.Fit = EdgesFit
	case common >= (t.HighMHz-t.LowMHz)/2 && common > -stepMHz:
		c.Fit = PartOfIt
	case common > 0 && common >= (b.HighMHz-b.LowMHz)/2:
		c.Fit = LiesWithin
	default:
		return Candidate{}, false
	}
	return c, true
}

package radio

import (
	"fmt"
	"slices"
	"strings"
)

// FilterIdea is a filter to build for a task. One of Notch and Ladder is given.
type FilterIdea struct {
	Kind   string // "stubs", "low-pass", "high-pass", "band-pass", "coupled resonators"
	Notch  *Notch
	Ladder *Ladder
	// WantedDB is what it loses in the wanted band, where that is most; StopsDB what
	// it takes off each band, where that is least. Both as it may come out.
	WantedDB Range
	StopsDB  []Range
	Enough   bool     // it takes off all that has to be, however it comes out
	Words    string   // what it is and does
	Build    []string // how to make it; lines of 76 columns at most
	Cautions []string
	With     *Remedy // the margins with it; nil where only a task was given
}

// Response returns what the filter takes off.
func (f FilterIdea) Response() Response {
	if f.Notch != nil {
		return *f.Notch
	}
	return f.Ladder
}

// FilterAdvice is which filters to build, best first.
type FilterAdvice struct {
	Words   string
	Ideas   []FilterIdea
	Refused []string // which kinds don't suit, and why
}

// Suggest returns the filters that somebody can build for a task from a cable and
// from parts: first those that take off enough, the one that loses least in the
// wanted band leading; then those that don't, the one that misses least leading.
func (t FilterTask) Suggest(c Coax, p Parts) (FilterAdvice, error) {
	if err := t.Check(); err != nil {
		return FilterAdvice{}, err
	}
	if err := c.Check(); err != nil {
		return FilterAdvice{}, err
	}
	if err := p.check(); err != nil {
		return FilterAdvice{}, err
	}
	type idea struct {
		FilterIdea
		reached
	}
	var ideas []idea
	var a FilterAdvice
	take := func(f FilterIdea) {
		got := t.reach(f.Response())
		f.WantedDB, f.StopsDB, f.Enough = got.wanted, got.stops, got.enough
		f.describe(t)
		ideas = append(ideas, idea{f, got})
	}
	if n, err := t.Stubs(c); err != nil {
		a.Refused = append(a.Refused, "stubs: "+err.Error())
	} else {
		take(FilterIdea{Kind: "stubs", Notch: &n})
	}
	for _, k := range []struct {
		kind    string
		form    Form
		coupled bool
	}{
		{"low-pass", LowPass, false}, {"high-pass", HighPass, false}, {"band-pass", BandPass, false}, {"coupled resonators", BandPass, true},
	} {
		if l, err := t.ladder(k.form, k.coupled, p); err != nil {
			a.Refused = append(a.Refused, fmt.Sprintf("%s: %s", k.kind, err))
		} else {
			take(FilterIdea{Kind: k.kind, Ladder: l})
		}
	}
	slices.SortStableFunc(ideas, func(x, y idea) int { return x.compare(y.reached) })
	for _, i := range ideas {
		a.Ideas = append(a.Ideas, i.FilterIdea)
	}
	a.Words = a.verdict()
	return a, nil
}

func (a FilterAdvice) verdict() string {
	switch {
	case len(a.Ideas) == 0:
		return "No filter that can be built from cable or coils suits." + cavity
	case a.Ideas[0].Enough:
		return "Least is lost with: " + a.Ideas[0].Words
	}
	return "None of these is sure to take off enough." + cavity + " The nearest: " + a.Ideas[0].Words
}

// cavity is the way out (common practice).
const cavity = " A bought one of cavities or helical resonators may."

// describe fills in the words.
func (f *FilterIdea) describe(t FilterTask) {
	what := ""
	if f.Notch != nil {
		what = f.Notch.words()
		f.Build, f.Cautions = f.Notch.Build(), f.Notch.Cautions()
	} else {
		what = f.Ladder.words()
		f.Build, f.Cautions = f.Ladder.Build(), f.Ladder.Cautions()
	}
	var off []string
	for i, s := range t.Stops {
		off = append(off, fmt.Sprintf("%s dB at %s (%.0f needed)", f.StopsDB[i], s.band(), s.NeededDB))
	}
	f.Words = fmt.Sprintf("%s. It takes off %s and loses %s dB at %s.",
		what, strings.Join(off, ", "), f.WantedDB, bandWords(t.WantedLowMHz, t.WantedHighMHz))
}

// Plot draws the filter's response for its task: x marks what is to be taken off,
// w the wanted band.
func (f FilterIdea) Plot(t FilterTask, columns, rows int) []string {
	low, high := t.span()
	return Plot(f.Response(), low, high, plottedDB, columns, rows, t.marks())
}

// plottedDB is where a plot ends: more isn't built by hand.
const plottedDB = 60.0

// span returns the frequencies that a plot shows.
func (t FilterTask) span() (lowMHz, highMHz float64) {
	low, high := t.WantedLowMHz, t.WantedHighMHz
	for _, s := range t.Stops {
		low, high = min(low, s.LowMHz), max(high, s.HighMHz)
	}
	return low / 1.15, high * 1.15
}

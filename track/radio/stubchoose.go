package radio

import (
	"fmt"
	"math"
)

const (
	// mostQuarters is the longest stub that is looked at.
	mostQuarters = 8
	// mostNotches is how many bands stubs are made for: more are a hedgehog.
	mostNotches = 4
)

// middle returns the notch of a stub for a band: as far from both ends by ratio.
func (s StopBand) middle() float64 { return math.Sqrt(s.LowMHz * s.HighMHz) }

func (t FilterTask) middle() float64 { return math.Sqrt(t.WantedLowMHz * t.WantedHighMHz) }

// notchWith returns the stubs in a line, spaced either way.
func (t FilterTask) notchWith(c Coax, stubs []Stub, spacedMHz float64) Notch {
	return Notch{Cable: c, Stubs: stubs, SpacedMHz: spacedMHz, SystemOhm: t.SystemOhm, Tolerance: Trimmed}
}

// Stubs returns the stubs that take off what has to be and lose least in the
// wanted band: for each band one or a pair, open or shorted, of up to eight
// quarter waves; a quarter wave apart, of the band taken off or of the wanted one,
// whichever is better. An error tells where that loses more than is tolerable: the
// bands are too near each other for cable. Whether it takes off enough is for the
// caller to see.
func (t FilterTask) Stubs(c Coax) (Notch, error) {
	if err := t.Check(); err != nil {
		return Notch{}, err
	}
	if err := c.Check(); err != nil {
		return Notch{}, err
	}
	if len(t.Stops) > mostNotches {
		return Notch{}, fmt.Errorf("%d bands are to be taken off: too many for stubs", len(t.Stops))
	}
	var stubs []Stub
	for _, s := range t.Stops {
		one := t
		one.Stops = []StopBand{s}
		best, got := one.bestStub(c)
		if !got.bearing {
			return Notch{}, fmt.Errorf("%s is too near the wanted %s for a stub: the best one loses %.1f dB there, and %.1f dB can be borne",
				s.band(), bandWords(t.WantedLowMHz, t.WantedHighMHz), got.wanted.High, t.TolerableDB)
		}
		stubs = append(stubs, best.Stubs...)
	}
	n, got := t.bestSpacing(c, stubs)
	if !got.bearing {
		return Notch{}, fmt.Errorf("stubs for all %d bands lose %.1f dB in the wanted one, and %.1f dB can be borne", len(t.Stops), got.wanted.High, t.TolerableDB)
	}
	return n, nil
}

// bestStub goes through all stubs and pairs for the first stop.
func (t FilterTask) bestStub(c Coax) (best Notch, got reached) {
	for quarters := 1; quarters <= mostQuarters; quarters++ {
		s := Stub{NotchMHz: t.Stops[0].middle(), Quarters: quarters}
		for _, stubs := range [][]Stub{{s}, {s, s}} {
			n, r := t.bestSpacing(c, stubs)
			if best.Stubs == nil || r.compare(got) < 0 {
				best, got = n, r
			}
		}
	}
	return best, got
}

func (t FilterTask) bestSpacing(c Coax, stubs []Stub) (best Notch, got reached) {
	for i, mhz := range []float64{t.Stops[0].middle(), t.middle()} {
		n := t.notchWith(c, stubs, mhz)
		if r := t.reach(n); i == 0 || r.compare(got) < 0 {
			best, got = n, r
		}
		if len(stubs) == 1 { // nothing is spaced
			break
		}
	}
	return best, got
}

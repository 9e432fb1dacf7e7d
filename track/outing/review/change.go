package review

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Change is what to do differently.
type Change struct {
	Cause Cause
	Words string
	// Bursts is how many more of this pass's bursts would have been heard, as
	// expected with the odds.
	Bursts float64
}

const (
	// leastGain is how many more bursts a change must give to be told, leastShare
	// which part of the best change's; and no more than mostChanges are told.
	leastGain   = 0.3
	leastShare  = 0.15
	mostChanges = 4
)

// changes returns what to change, in the order of what it gives.
func (w *weigher) changes(sets []Together) []Change {
	p := w.pass
	could := 0.0
	usual := math.Max(w.limits.marginDB+2, w.settings.MarginDB)
	for _, b := range p.Bursts {
		if known(b.Found) && b.Found.ElevationDeg > 0 {
			could += (1 - missed) * float64(w.tables.of(steady, "").of(0, usual-20*math.Log10(b.Found.RangeKm/1000)))
		}
	}
	left := math.Max(0, could-float64(p.Count(Heard)))
	var all []Change
	for _, c := range Causes() {
		share := 0.0
		for _, s := range sets {
			if slices.Contains(s.Causes, c) {
				share += s.Probability / float64(len(s.Causes))
			}
		}
		all = append(all, Change{c, w.todo(c), share * left})
	}
	slices.SortStableFunc(all, func(a, b Change) int { return cmp.Compare(b.Bursts, a.Bursts) })
	n := 0
	for n < mostChanges && all[n].Bursts >= max(leastGain, leastShare*all[0].Bursts) {
		n++
	}
	return all[:n]
}

// todo says what to do about a cause.
func (w *weigher) todo(c Cause) string {
	e := w.pass.Estimates
	switch c {
	case Aim:
		return "Be in the hold ten seconds before the burst and stay until it is over; a sensor on the boom shows whether you are."
	case North:
		if e.HeadingLearned && math.Abs(e.HeadingErrorDeg.Mean) >= 1 {
			side := "right"
			if e.HeadingErrorDeg.Mean > 0 {
				side = "left"
			}
			return fmt.Sprintf("Turn your north %.0f° to the %s: it was %s, give or take %.0f°. Check it with the sun or a landmark.",
				math.Abs(e.HeadingErrorDeg.Mean), side, northWords(e.HeadingErrorDeg.Mean), math.Ceil(e.HeadingErrorDeg.Sigma))
		}
		return "Find north a second way before the pass, by the sun or a landmark, away from iron."
	case Elements:
		if o, ok := w.pass.another(); ok {
			return fmt.Sprintf("Point with the elements of %s: it was that object, with %s.", o.Name, percent(o.Probability))
		}
		if e.TimeLearned && math.Abs(e.TimeErrorS.Mean) >= 1 {
			return fmt.Sprintf("Fetch newer elements; by these the satellite was %s, give or take %.0f s.", lateWords(e.TimeErrorS.Mean), math.Ceil(e.TimeErrorS.Sigma))
		}
		return "Fetch newer elements, and look whether another object of the launch fits better."
	case Tuning:
		if x := e.OffsetHz; x.Known && math.Abs(x.Value) > offsetSigmaHz {
			return fmt.Sprintf("Tune %+.1f kHz off what is published, and follow the Doppler shift.", x.Value/1000)
		}
		return "Check the receiver on a signal of known frequency, and follow the Doppler shift through the pass."
	case WeakLink:
		return "Take a pass that comes nearer, a narrower mode or an antenna with more gain; see that the preamplifier works and its cables are good."
	case Interference:
		return "Look for the noise before the pass with the noise test; a filter before the preamplifier, another place, or ten steps from the computer."
	case Transmitter:
		if n, agree := w.pass.straysAgree(); agree {
			return fmt.Sprintf("Expect bursts %.1f s after the times that you were given: %d were heard there.", w.pass.strayShift(), n)
		}
		return "Ask the satellite's team whether it sends, and when; until then listen through the whole period, not only at the expected times."
	}
	return "Keep one hand free for the mark key, and say when you don't listen."
}

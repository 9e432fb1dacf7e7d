package radio

import (
	"cmp"
	"fmt"
	"slices"

	"foreaim/track"
)

// FilterTask returns what a filter before the first active stage has to do for a
// direction of the beacon: take off as much as brings the noise down again, at the
// bands that matter most, and lose no more in the wanted channel than is tolerable.
// An error tells why no filter helps, or is needed.
func (s *Surroundings) FilterTask(look track.Look, offAimDeg float64) (FilterTask, error) {
	f := stop{wantedMHz: s.link.MHz(), lossDB: filterLossDB}
	needed, possible := s.needed(look, func(c carrier) bool { return !f.passes(c.mhz) })
	if !possible {
		return FilterTask{}, fmt.Errorf("something strong is too near %.3f MHz for a filter", s.link.MHz())
	}
	f.stop = Exactly(needed)
	c := s.link.channel()
	t := FilterTask{WantedLowMHz: c.lowMHz, WantedHighMHz: c.highMHz, SystemOhm: 50}
	t.TolerableDB, _ = s.tolerableDB(look, offAimDeg, f)
	for _, i := range s.culpritCarriers(look, f) {
		t.Stops = append(t.Stops, StopBand{s.carriers[i].LowMHz, s.carriers[i].HighMHz, needed})
	}
	t.Stops = joined(t.Stops)
	return t, t.Check()
}

// joined makes one of bands that touch or overlap, by rising frequency.
func joined(stops []StopBand) []StopBand {
	slices.SortFunc(stops, func(a, b StopBand) int { return cmp.Compare(a.LowMHz, b.LowMHz) })
	var all []StopBand
	for _, s := range stops {
		if last := len(all) - 1; last >= 0 && s.LowMHz <= all[last].HighMHz {
			all[last].HighMHz = max(all[last].HighMHz, s.HighMHz)
			all[last].NeededDB = max(all[last].NeededDB, s.NeededDB)
		} else {
			all = append(all, s)
		}
	}
	return all
}

// SuggestFilters returns the filters to build for a direction of the beacon, each
// with the margins that the link has with it; the task is the one that they are
// for. What the margins say ranks first: a filter also weakens, or lets through,
// what the task doesn't name.
func (s *Surroundings) SuggestFilters(look track.Look, offAimDeg float64, c Coax, p Parts) (FilterAdvice, FilterTask, error) {
	t, err := s.FilterTask(look, offAimDeg)
	if err != nil {
		return FilterAdvice{}, t, err
	}
	a, err := t.Suggest(c, p)
	if err != nil {
		return FilterAdvice{}, t, err
	}
	now := s.At(look, offAimDeg).Level.HearingMarginDB
	for i := range a.Ideas {
		f := &a.Ideas[i]
		chain, before := s.filtered(f.Response())
		r := s.with(chain, look, offAimDeg)
		r.Kind, r.Words, r.Verdict = FilterFirst, f.Words, judge(r.HearingMarginDB, now)
		if before == Preamplifier {
			r.Caution = s.feedCaution()
		}
		f.With = &r
	}
	slices.SortStableFunc(a.Ideas, func(x, y FilterIdea) int {
		return cmp.Compare(slices.Index(verdicts, x.With.Verdict), slices.Index(verdicts, y.With.Verdict))
	})
	a.Words = a.verdict()
	if len(a.Ideas) > 0 {
		a.Words += fmt.Sprintf(" With it the margin for hearing is %s dB.", a.Ideas[0].With.HearingMarginDB)
	}
	return a, t, nil
}

package review

import (
	"fmt"
	"strings"
)

// named is how likely a cause must be to be called the cause.
const named = 0.5

// say is the verdict in one or two sentences.
func (w *weigher) say(v *Verdict) string {
	first, second := v.Odds[0], v.Odds[1]
	switch {
	case v.NothingWrong > first.Probability && v.NothingWrong >= named:
		return fmt.Sprintf("Nothing was wrong that counts, with %s.", percent(v.NothingWrong))
	case first.Probability >= named && second.Probability >= named:
		return fmt.Sprintf("Two things: %s, with %s, and %s, with %s.", first.Cause, percent(first.Probability), second.Cause, percent(second.Probability))
	case first.Probability >= named:
		return fmt.Sprintf("Most likely %s, with %s.", first.Cause, percent(first.Probability))
	}
	var some []string
	for _, o := range v.Odds[:3] {
		some = append(some, fmt.Sprintf("%s %s", o.Cause, percent(o.Probability)))
	}
	return "No one cause stands out: " + strings.Join(some, ", ") + "."
}

// Errors says what is known of the errors, one sentence each.
func (p *Pass) Errors() []string {
	e := p.Estimates
	if !e.Made {
		return nil
	}
	interval := func(low, high float64, unit string) string {
		return fmt.Sprintf("68 %%: %.0f to %.0f%s", low, high, unit)
	}
	var all []string
	if e.TimeLearned {
		all = append(all, fmt.Sprintf("The satellite was %s (%s).", lateWords(e.TimeErrorS.Mean), interval(e.TimeErrorS.Low, e.TimeErrorS.High, " s")))
	} else {
		all = append(all, fmt.Sprintf("The satellite's time: nothing learned beyond give or take %.0f s.", max(1, e.TimeErrorS.Sigma)))
	}
	if e.HeadingLearned {
		all = append(all, fmt.Sprintf("Your north was %s (%s).", northWords(e.HeadingErrorDeg.Mean), interval(e.HeadingErrorDeg.Low, e.HeadingErrorDeg.High, "°")))
	} else {
		all = append(all, fmt.Sprintf("Your north: nothing learned beyond give or take %.0f°.", max(1, e.HeadingErrorDeg.Sigma)))
	}
	if e.OffsetHz.Known {
		all = append(all, fmt.Sprintf("The frequency was %+.1f kHz off, give or take %.1f.", e.OffsetHz.Value/1000, e.OffsetSigmaHz.Value/1000))
	}
	if e.Period > 0 {
		all = append(all, fmt.Sprintf("A burst came every %.2f s, give or take %.2f.", e.Period.Seconds(), e.PeriodSigmaS))
	}
	if o, ok := p.another(); ok {
		all = append(all, fmt.Sprintf("It was %s of the same group, with %s.", o.Name, percent(o.Probability)))
	}
	return append(all, fmt.Sprintf("It was this object, with %s.", percent(e.ObjectProbability)))
}

package beacon

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Words says for people what is known at a time: "bursts every 30.04 s ±
// 0.02 s, next in 12 s ± 0.6 s; two of five marks don't fit". Every ± is half
// of a 68 % interval.
func (l Learned) Words(now time.Time) string {
	phrases := []string{l.periodWords()}
	if f, ok := l.Next(now); ok {
		phrases[0] += ", next in " + withSpread(f.Time.Sub(now.UTC()).Seconds(), f.SigmaS)
	} else if l.Period > 0 {
		phrases[0] += ", but not when"
	}
	if len(l.Others) > 0 && l.Period > 0 && l.Others[0].Odds >= 0.05 {
		o := l.Others[0]
		phrases = append(phrases, fmt.Sprintf("or every %.1f s (%.0f %%)", o.Period.Seconds(), 100*o.Odds))
	}
	for _, p := range []string{l.misfitWords(), l.passWords()} {
		if p != "" {
			phrases = append(phrases, p)
		}
	}
	return strings.Join(phrases, "; ")
}

func (l Learned) periodWords() string {
	switch {
	case l.Period > 0:
		return "bursts every " + withSpread(l.Period.Seconds(), math.Sqrt(l.PeriodVarS2))
	case len(l.False) < MarksForPeriod:
		return fmt.Sprintf("how often bursts come can't be told from %s: it takes %s", marksInWords(len(l.False)), inWords(MarksForPeriod))
	default:
		return "how often bursts come can't be told: the marks allow several periods"
	}
}

// misfitWords counts the marks that are more likely false than not.
func (l Learned) misfitWords() string {
	n, of := 0, len(l.False)
	for _, odds := range l.False {
		if odds > 0.5 {
			n++
		}
	}
	switch {
	case n == 0:
		return ""
	case of == 1:
		return "the mark doesn't fit"
	case n == of:
		return fmt.Sprintf("none of the %s marks fits", inWords(of))
	case n == 1:
		return fmt.Sprintf("one of %s marks doesn't fit", inWords(of))
	}
	return fmt.Sprintf("%s of %s marks don't fit", inWords(n), inWords(of))
}

// passWords says what holds for another pass.
func (l Learned) passWords() string {
	switch {
	case len(l.False) == 0 || l.Period == 0:
		return ""
	case l.CarriesOver < 0.1:
		return "the times don't carry over from pass to pass: begin anew in the next"
	case l.CarriesOver > 0.9 && l.Passes > 1:
		return "the times carry over from pass to pass"
	case l.CarriesOver > 0.9:
		return ""
	}
	return "whether the times carry over to another pass can't be told yet"
}

// withSpread writes a value in seconds and how far it may be off, to the place
// of the first digit of that; whole seconds where the value is ten or more
// and the spread a tenth or more.
func withSpread(value, spread float64) string {
	if !(spread > 0) {
		return fmt.Sprintf("%.4g s", value)
	}
	places := min(max(-int(math.Floor(math.Log10(spread))), 0), 4)
	spread = max(spread, math.Pow10(-places))
	of := places
	if value >= 10 && places <= 1 {
		of = 0
	}
	return fmt.Sprintf("%.*f s ± %.*f s", of, value, places, spread)
}

func marksInWords(n int) string {
	if n == 1 {
		return "one mark"
	}
	return inWords(n) + " marks"
}

func inWords(n int) string {
	small := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(small) {
		return small[n]
	}
	return fmt.Sprint(n)
}

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
		phrases[0] += ", next in " + waitWords(f.Time.Sub(now.UTC()).Seconds(), f.SigmaS)
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

// Brief says for people what was learned and doesn't change while one waits for
// the next burst: "bursts every 30.04 s ± 0.02 s; one of five marks doesn't fit".
func (l Learned) Brief() string {
	if misfits := l.misfitWords(); misfits != "" {
		return l.periodWords() + "; " + misfits
	}
	return l.periodWords()
}

func (l Learned) periodWords() string {
	switch {
	case l.Period > 0:
		return "bursts every " + withSpread(l.Period.Seconds(), l.PeriodSigmaS)
	case len(l.False) == 1:
		return "how often bursts come can't be told from one mark"
	}
	return fmt.Sprintf("how often bursts come can't be told from %s marks", inWords(len(l.False)))
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
		return "in another pass they come at other times: begin anew there"
	case l.CarriesOver > 0.9 && l.Passes > 1:
		return "they go on from pass to pass"
	case l.CarriesOver > 0.9:
		return ""
	}
	return "in another pass they may come at other times"
}

// withSpread writes a value in seconds and how far it may be off, both to the
// place of the first digit of that, a tenth of a millisecond at the finest.
func withSpread(value, spread float64) string {
	places := 4
	if spread > 1e-4 {
		places = max(-int(math.Floor(math.Log10(spread))), 0)
	}
	return fmt.Sprintf("%.*f s ± %.*f s", places, value, places, max(spread, 1e-4))
}

// waitWords writes a wait to read off a countdown: whole seconds from ten on.
func waitWords(wait, spread float64) string {
	places, of := 1, 1
	if wait >= 10 {
		places = 0
	}
	if spread >= 2 {
		of = 0
	}
	return fmt.Sprintf("%.*f s ± %.*f s", places, wait, of, max(spread, 0.1))
}

func inWords(n int) string {
	small := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(small) {
		return small[n]
	}
	return fmt.Sprint(n)
}

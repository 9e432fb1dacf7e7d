package review

import (
	"fmt"
	"math"
)

// clearly is how many times likelier something must be to be told as evidence.
const clearly = 1.5

// reasons says what speaks for and against a cause.
func (w *weigher) reasons(o *Odds, fits [causeCount]float64) {
	for _, e := range w.tests {
		if e.cause != o.Cause {
			continue
		}
		switch r := e.with / e.without; {
		case r > clearly:
			o.For = append(o.For, e.words)
		case r < 1/clearly:
			o.Against = append(o.Against, e.words)
		}
	}
	p := w.pass
	heard, listened := p.Count(Heard), p.Count(Heard)+p.Count(Silent)
	marks := fmt.Sprintf("%d heard of %d listened to", heard, listened)
	if listened == 0 {
		return
	}
	switch fit := fits[o.Cause]; {
	case fit > math.Log(clearly):
		o.For = append(o.For, fmt.Sprintf("%s: %s fits %s better than with nothing wrong", marks, w.how(o.Cause), times(fit)))
	case fit < -math.Log(clearly):
		o.Against = append(o.Against, fmt.Sprintf("%s: fits %s worse than with nothing wrong", marks, times(-fit)))
	}
	w.beside(o)
}

// how says a cause as one thing that would explain the marks.
func (w *weigher) how(c Cause) string {
	e := w.pass.Estimates
	switch c {
	case North:
		if e.HeadingLearned {
			return "a north that is " + northWords(e.HeadingErrorDeg.Mean)
		}
		return "a wrong north"
	case Elements:
		if e.TimeLearned {
			return "a satellite that is " + lateWords(e.TimeErrorS.Mean)
		}
		return "a satellite elsewhere"
	case Aim:
		return "an antenna held elsewhere"
	case Tuning:
		return "a receiver off its frequency"
	case WeakLink:
		return "a weak signal"
	case Interference:
		return "a drowned signal"
	case Transmitter:
		return "a beacon that didn't send then"
	}
	return "nobody there"
}

// beside adds what is known of a cause without having been weighed by itself.
func (w *weigher) beside(o *Odds) {
	p := w.pass
	switch o.Cause {
	case Elements:
		days := p.Likely.Age.Hours() / 24
		words := fmt.Sprintf("the elements were %.1f days old, %s", days, p.Likely.Words())
		if p.Likely.SigmaS > w.limits.lateS {
			o.For = append(o.For, words)
		} else if p.Likely.SigmaS < w.limits.lateS/3 {
			o.Against = append(o.Against, words)
		}
	case North:
		switch {
		case p.FacingHow == "":
			o.For = append(o.For, "nobody set a facing")
		case p.HeadingSigmaDeg > w.limits.headingDeg:
			o.For = append(o.For, fmt.Sprintf("the facing was only known to %.0f°", p.HeadingSigmaDeg))
		case p.HeadingSigmaDeg < w.limits.headingDeg/3:
			o.Against = append(o.Against, fmt.Sprintf("the facing was known to %.0f°", p.HeadingSigmaDeg))
		}
	case Transmitter:
		if n, agree := p.straysAgree(); agree {
			o.For = append(o.For, fmt.Sprintf("%d bursts were heard at other times, a whole period apart", n))
		} else if n > 0 {
			o.For = append(o.For, fmt.Sprintf("%d heard where no burst was expected", n))
		}
	case Tuning:
		if x := p.Estimates.OffsetHz; x.Known {
			words := fmt.Sprintf("what was heard was %+.1f kHz off, give or take %.1f", x.Value/1000, p.Estimates.OffsetSigmaHz.Value/1000)
			if math.Abs(x.Value) > 2*offsetSigmaHz {
				o.For = append(o.For, words)
			} else {
				o.Against = append(o.Against, words)
			}
		}
	case NotListened:
		if p.Count(Silent) > 0 && p.facts.keys == 0 {
			o.For = append(o.For, "no key was pressed for any burst")
		}
	}
}

// times says how many times, given a natural logarithm.
func times(log float64) string {
	if log > math.Log(1000) {
		return "over 1000 times"
	}
	x := math.Exp(log)
	if x < 10 {
		return fmt.Sprintf("%.1f times", x)
	}
	return fmt.Sprintf("%.0f times", x)
}

// lateWords says a time error.
func lateWords(s float64) string {
	switch size := math.Round(math.Abs(s)); {
	case size == 0:
		return "on time"
	case s < 0:
		return fmt.Sprintf("%.0f s early", size)
	default:
		return fmt.Sprintf("%.0f s late", size)
	}
}

// northWords says a heading error.
func northWords(deg float64) string {
	switch size := math.Round(math.Abs(deg)); {
	case size == 0:
		return "right"
	case deg < 0:
		return fmt.Sprintf("%.0f° left of true", size)
	default:
		return fmt.Sprintf("%.0f° right of true", size)
	}
}

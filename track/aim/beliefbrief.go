package aim

import (
	"fmt"
	"math"
)

// Brief says what Words says in few characters: "40 s late, north 12° left,
// 82 % next".
func (a Advice) Brief() string {
	if !a.Explains {
		return "marks fit no likely error"
	}
	text := briefly(a.TimeErrorS, " s", "late", "early", "on time") + ", north " +
		briefly(a.HeadingErrorDeg, "°", "right", "left", "ok")
	if a.AudibleProbability < doubtful {
		text += ", " + percent(1-a.AudibleProbability) + " nothing to hear"
	}
	if !a.Next.IsZero() {
		text += ", " + percent(a.HearProbability) + " next"
	}
	return text
}

// briefly says an error, or what is not known of it.
func briefly(e Estimate, unit, over, under, none string) string {
	size := math.Round(math.Abs(e.Mean))
	switch {
	case e.Sigma > 3 && math.Abs(e.Mean) < 1.5*e.Sigma:
		return fmt.Sprintf("±%.0f%s", math.Ceil(e.Sigma), unit)
	case size == 0:
		return none
	case e.Mean < 0:
		return fmt.Sprintf("%.0f%s %s", size, unit, under)
	}
	return fmt.Sprintf("%.0f%s %s", size, unit, over)
}

package aim

import (
	"fmt"
	"math"
	"strings"
)

// Words says what is believed in one line: "satellite about 40 s early, your
// north 12° left of true, 82 % to hear the next".
func (a Advice) Words() string {
	if !a.Explains {
		return "what was marked fits no likely error: check the marks, the object and the time"
	}
	var parts []string
	if len(a.ObjectProbability) > 1 {
		parts = append(parts, fmt.Sprintf("%s with %s", a.ObjectName, percent(a.ObjectProbability[a.Object])))
	}
	parts = append(parts, a.timeWords(), a.northWords())
	if a.AudibleProbability < doubtful {
		parts = append(parts, percent(1-a.AudibleProbability)+" that nothing can be heard here")
	}
	if !a.Next.IsZero() {
		parts = append(parts, percent(a.HearProbability)+" to hear the next")
	}
	return strings.Join(parts, ", ")
}

// doubtful is the probability of hearing anything at all below which it is
// said.
const doubtful = 0.7

// timeWords says the time error, once it is smaller than what is not known of
// it.
func (a Advice) timeWords() string {
	e := a.TimeErrorS
	size := math.Abs(e.Mean)
	if size >= 10 {
		size = 5 * math.Round(size/5)
	} else {
		size = math.Round(size)
	}
	switch {
	case e.Sigma > 10 && math.Abs(e.Mean) < 1.5*e.Sigma:
		return fmt.Sprintf("satellite's time known to %.0f s", 5*math.Ceil(e.Sigma/5))
	case size == 0:
		return "satellite on time"
	case e.Mean < 0:
		return fmt.Sprintf("satellite about %.0f s early", size)
	}
	return fmt.Sprintf("satellite about %.0f s late", size)
}

// northWords says the heading error likewise.
func (a Advice) northWords() string {
	e := a.HeadingErrorDeg
	size := math.Round(math.Abs(e.Mean))
	switch {
	case e.Sigma > 3 && math.Abs(e.Mean) < 1.5*e.Sigma:
		return fmt.Sprintf("your north known to %.0f°", math.Ceil(e.Sigma))
	case size == 0:
		return "your north right"
	case e.Mean < 0:
		return fmt.Sprintf("your north %.0f° left of true", size)
	}
	return fmt.Sprintf("your north %.0f° right of true", size)
}

// percent rounds a probability; only what is certain is 0 or 100.
func percent(p float64) string {
	return fmt.Sprintf("%.0f %%", min(99, max(1, math.Round(100*p))))
}

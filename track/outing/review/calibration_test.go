package review_test

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// outings is how many are played: 40, or as many as OUTINGS says.
func outings(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("OUTINGS"))
	if err != nil {
		return 40
	}
	return n
}

func TestTrueCausesAreFound(t *testing.T) {
	n := outings(t)
	found, inSets := 0, 0
	var stated, came [10]float64
	var inLate, inHeading, learnedL, learnedH, wideL, wideH float64
	for i := range n {
		w := newWorld(t, uint64(i))
		r := review.Of([]outing.Log{w.log(t)}, review.Settings{})
		p := r.Passes[0]
		if !p.Verdict.Given {
			t.Fatalf("outing %d (%v): no verdict: %v", i, w.faults, p.Missing)
		}
		first := p.Verdict.Odds[0].Cause
		if slices.Contains(w.faults, first) || len(w.faults) == 0 && p.Verdict.NothingWrong > p.Verdict.Odds[0].Probability {
			found++
		}
		want := slices.Clone(w.faults)
		slices.Sort(want)
		if slices.ContainsFunc(p.Verdict.Sets, func(s review.Together) bool { return slices.Equal(s.Causes, want) }) {
			inSets++
		}
		for _, o := range p.Verdict.Odds {
			k := min(9, int(o.Probability*10))
			stated[k]++
			if slices.Contains(w.faults, o.Cause) {
				came[k]++
			}
		}
		e := p.Estimates
		if !w.elsewhere {
			if e.TimeErrorS.Low <= w.lateS && w.lateS <= e.TimeErrorS.High {
				inLate++
			}
			wideL++
		}
		if e.HeadingErrorDeg.Low <= w.headingDeg && w.headingDeg <= e.HeadingErrorDeg.High {
			inHeading++
		}
		wideH++
		_ = learnedL
		_ = learnedH
		if os.Getenv("SHOW") != "" {
			fmt.Printf("%d %v heard %d/%d late %.0f head %.0f: %s | %s\n", i, w.faults, w.heard, w.sent, w.lateS, w.headingDeg, p.Verdict.Words, p.Errors()[:2])
		}
	}
	t.Logf("%d outings: a true cause first in %d, the truth among the sets in %d; late in %.2f, heading in %.2f", n, found, inSets, inLate/wideL, inHeading/wideH)
	for k := range stated {
		t.Logf("stated %d0 %%: %3.0f, came true %.2f", k, stated[k], came[k]/stated[k])
	}
}

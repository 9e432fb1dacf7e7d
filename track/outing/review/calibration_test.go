package review_test

import (
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// outings is how many are played: 40, or as many as OUTINGS says (200 take
// about a minute).
func outings() int {
	if n, err := strconv.Atoi(os.Getenv("OUTINGS")); err == nil && n > 0 {
		return n
	}
	return 40
}

// tally counts how often what is stated is so.
type tally struct {
	outings, found, inSets           float64
	stated, came                     [10]float64 // by stated odds, in tenths
	late, inLate, heading, inHeading float64
}

func (c *tally) add(w *world, p review.Pass) {
	v, e := p.Verdict, p.Estimates
	c.outings++
	truth := slices.Sorted(slices.Values(w.faults))
	if len(truth) == 0 && v.NothingWrong > v.Odds[0].Probability || slices.Contains(truth, v.Odds[0].Cause) {
		c.found++
	}
	if slices.ContainsFunc(v.Sets, func(s review.Together) bool { return slices.Equal(s.Causes, truth) }) {
		c.inSets++
	}
	for _, o := range v.Odds {
		k := min(9, int(o.Probability*10))
		c.stated[k]++
		if slices.Contains(truth, o.Cause) {
			c.came[k]++
		}
	}
	if !w.elsewhere { // of another object there is no time error
		c.late++
		if e.TimeErrorS.Low <= w.lateS && w.lateS <= e.TimeErrorS.High {
			c.inLate++
		}
	}
	c.heading++
	if e.HeadingErrorDeg.Low <= w.headingDeg && w.headingDeg <= e.HeadingErrorDeg.High {
		c.inHeading++
	}
}

// TestStatedOddsAreHonest plays invented outings with faults chosen at random,
// none, singly and in pairs, by physics of its own (see world). Few outings leave
// an error: below 200 the bounds are widened by two standard deviations of a share,
// those of the tenths that are not asked for always.
func TestStatedOddsAreHonest(t *testing.T) {
	for name, world := range map[string]func(testing.TB, uint64) *world{"well known": newWorld, "vaguely known": newVagueWorld} {
		t.Run(name, func(t *testing.T) { oddsAreHonest(t, world) })
	}
}

func oddsAreHonest(t *testing.T, world func(testing.TB, uint64) *world) {
	var c tally
	n := outings()
	for i := range n {
		w := world(t, uint64(i))
		p := review.Of([]outing.Log{w.log(t)}, review.Settings{}).Passes[0]
		if !p.Verdict.Given {
			t.Fatalf("outing %d, %v: no verdict: %v", i, w.faults, p.Missing)
		}
		c.add(w, p)
	}
	t.Logf("%d outings: a true cause first in %.0f, the truth within the stated 90 %% in %.0f", n, c.found, c.inSets)
	within := func(what string, count, of, low, high float64, asked bool) {
		t.Helper()
		if of == 0 {
			return
		}
		slack := 0.0
		if n < 200 || !asked {
			slack = 2 * math.Sqrt(0.25/of)
		}
		share := count / of
		t.Logf("%s: %.2f of %.0f", what, share, of)
		if share < low-slack || share > high+slack {
			t.Errorf("%s: %.2f of %.0f, want %.2f to %.2f (± %.2f)", what, share, of, low, high, slack)
		}
	}
	within("truth within the sets that make 90 %", c.inSets, c.outings, 0.86, 1, true)
	within("a true cause first", c.found, c.outings, 0.55, 1, true)
	for k := range c.stated {
		if k == 4 || k == 5 || k == 6 {
			continue // hardly any: joined below
		}
		low, high := float64(k)/10-0.05, float64(k)/10+0.15
		within("odds of "+strconv.Itoa(10*k)+" % came true", c.came[k], c.stated[k], max(0, low), min(1, high), k == 7)
	}
	within("odds of 40 to 70 % came true",
		c.came[4]+c.came[5]+c.came[6], c.stated[4]+c.stated[5]+c.stated[6], 0.4, 0.75, false)
	within("time errors within their 68 % intervals", c.inLate, c.late, 0.6, 0.76, true)
	within("heading errors within their 68 % intervals", c.inHeading, c.heading, 0.6, 0.76, true)
}

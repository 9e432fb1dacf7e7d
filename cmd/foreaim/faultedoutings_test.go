package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// faultedOutings is how many are played: 6, or as many as OUTINGS says (200 take six
// minutes of a processor). SEED draws others.
func faultedOutings() int {
	if n, err := strconv.Atoi(os.Getenv("OUTINGS")); err == nil && n > 0 {
		return n
	}
	return 6
}

// share is how often something was so.
type share struct{ so, of int }

func (s *share) count(so bool) {
	s.of++
	if so {
		s.so++
	}
}

func (s share) String() string { return fmt.Sprintf("%d of %d", s.so, s.of) }

// within tells whether it is as often so as wanted, give or take two standard
// deviations where few are counted.
func (s share) within(t *testing.T, what string, low, high float64) {
	t.Helper()
	t.Logf("%s: %v", what, s)
	if s.of == 0 {
		return
	}
	slack := 0.0
	if s.of < 150 {
		slack = 2 * math.Sqrt(0.25/float64(s.of))
	}
	if is := float64(s.so) / float64(s.of); is < low-slack || is > high+slack {
		t.Errorf("%s: %v, want %.2f to %.2f (± %.2f)", what, s, low, high, slack)
	}
}

// outingTally counts what the reviews say that is so.
type outingTally struct {
	mu                   sync.Mutex
	found, first, stated share
	explanations         int
	late95, north95      share
	late68, north68      share
	likely               share // odds of 70 to 80 %
	killed               share // with marks before and after
}

// Whole outings are played through the whole program in virtual time, with faults
// of all eight causes chosen at random, none, singly and in pairs, by an operator who
// knows nothing of them and presses keys. Of the reviews of the records that the
// program writes, 85 % have a true cause first, or what was so among the explanations
// that make up the stated 90 %. What is stated of the errors, and with odds, is so as
// often as it is said.
func TestFaultedOutings(t *testing.T) {
	n, seed := faultedOutings(), uint64(0)
	if text := os.Getenv("SEED"); text != "" {
		var err error
		if seed, err = strconv.ParseUint(text, 10, 32); err != nil {
			t.Fatalf("SEED is %q, want a whole number", text)
		}
	}
	var c outingTally
	t.Run("play", func(t *testing.T) {
		for i := range n {
			t.Run(strconv.Itoa(i), func(t *testing.T) {
				t.Parallel()
				f := newFaulted(t, uint64(i+1)+1000*seed)
				killed := i%4 == 1
				c.add(t, f, f.play(t, killed), killed)
			})
		}
	})
	t.Logf("%d outings: a true cause first in %v, %.1f explanations stated on average", n, c.first, float64(c.explanations)/float64(n))
	c.found.within(t, "a true cause is first, or the truth among what is stated", 0.85, 1)
	c.stated.within(t, "the truth is among the explanations that make up 90 %", 0.85, 1)
	c.late95.within(t, "late by what is within its 95 %", 0.85, 1)
	c.north95.within(t, "north off by what is within its 95 %", 0.85, 1)
	c.late68.within(t, "late by what is within its 68 %", 0.6, 0.76)
	c.north68.within(t, "north off by what is within its 68 %", 0.6, 0.76)
	c.likely.within(t, "odds of 70 to 80 % came true", 0.65, 0.85)
	if c.killed.so == 0 && (n >= 40 || n >= 6 && seed == 0) {
		t.Errorf("of the %d programs that were killed none had marks to lose, before and after", c.killed.of)
	}
}

func (c *outingTally) add(t *testing.T, f *faulted, p played, killed bool) {
	log, err := outing.Read(bytes.NewReader(p.record), "faulted.jsonl")
	if err != nil || len(log.Faults) > 1 || !killed && len(log.Faults) > 0 {
		t.Fatal(err, log.Faults)
	}
	passes := review.Of([]outing.Log{log}, review.Settings{}).Passes
	if len(passes) != 1 {
		t.Fatalf("%d passes, want the one", len(passes))
	}
	pass := passes[0]
	if heard := pass.Count(review.Heard) + len(pass.Strays); heard != p.marked {
		t.Errorf("%d bursts heard and strays, %d marked", heard, p.marked)
	}
	v, e := pass.Verdict, pass.Estimates
	if !v.Given {
		t.Fatalf("no verdict: %v", pass.Missing)
	}
	inSets := slices.ContainsFunc(v.Sets, func(s review.Together) bool { return slices.Equal(s.Causes, f.faults) })
	first := slices.Contains(f.faults, v.Odds[0].Cause) || len(f.faults) == 0 && v.NothingWrong > v.Odds[0].Probability
	lateS, northDeg := f.Satellites[0].LateS, track.TurnDeg(f.BelievedDeg, f.FacingDeg)
	late := math.Abs(lateS-e.TimeErrorS.Mean) <= 2*e.TimeErrorS.Sigma
	head := math.Abs(track.TurnDeg(e.HeadingErrorDeg.Mean, northDeg)) <= 2*e.HeadingErrorDeg.Sigma
	t.Logf("%v: %d marked of %d; first %v %.2f, truth stated %v among %d; late %.0f s, said %.0f ± %.0f; north %.0f°, said %.0f ± %.0f%s", f.faults, p.marked, len(pass.Bursts),
		v.Odds[0].Cause, v.Odds[0].Probability, inSets, len(v.Sets), lateS, e.TimeErrorS.Mean, e.TimeErrorS.Sigma, northDeg, e.HeadingErrorDeg.Mean, e.HeadingErrorDeg.Sigma,
		map[bool]string{true: "; killed"}[killed])
	c.mu.Lock()
	defer c.mu.Unlock()
	c.first.count(first)
	c.stated.count(inSets)
	c.found.count(first || inSets)
	c.explanations += len(v.Sets)
	if !f.elsewhere { // of another object there is no time error
		c.late95.count(late)
		c.late68.count(e.TimeErrorS.Low <= lateS && lateS <= e.TimeErrorS.High)
	}
	c.north95.count(head)
	c.north68.count(e.HeadingErrorDeg.Low <= northDeg && northDeg <= e.HeadingErrorDeg.High)
	for _, o := range v.Odds {
		if o.Probability >= 0.7 && o.Probability < 0.8 {
			c.likely.count(slices.Contains(f.faults, o.Cause))
		}
	}
	if killed {
		c.killed.count(p.before > 0 && p.marked > p.before)
	}
}

// A record that was begun and left before there was anything to hear has no verdict.
func TestNothingRecordedNoVerdict(t *testing.T) {
	for _, before := range []string{"rise", "the first burst"} {
		f := newFaulted(t, 7)
		first := f.burst(t, f.pass.Rise.Time).Time.Sub(f.begin)
		ends := map[string]time.Duration{"rise": 15 * time.Second, "the first burst": first - time.Second}[before]
		record := f.playUntil(t, ends)
		log, err := outing.Read(bytes.NewReader(record), "left.jsonl")
		if err != nil || len(log.Faults) > 0 || len(log.Records) < 3 {
			t.Fatal(err, log.Faults, len(log.Records))
		}
		for _, p := range review.Of([]outing.Log{log}, review.Settings{}).Passes {
			if p.Verdict.Given || len(p.Verdict.Odds) > 0 || len(p.Verdict.Bring) == 0 {
				t.Errorf("left before %s, and a verdict: %s; to bring: %q", before, p.Verdict.Words, p.Verdict.Bring)
			}
		}
	}
}

//go:build unix

package main

import (
	"math"
	"slices"
	"testing"
	"time"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// reviewedPass is what programs are told of one pass.
type reviewedPass struct {
	Site *struct {
		LatitudeDeg  float64 `json:"latitude_deg"`
		LongitudeDeg float64 `json:"longitude_deg"`
	}
	Expected, Heard, Silent, Unexpected int
	NotListening                        int `json:"not_listening"`
	Bursts                              []struct {
		Time              time.Time
		Outcome, Strength string
		HeldBy            string `json:"held_by"`
	}
	Noise []struct {
		From, To time.Time
	} `json:"noise_up"`
	Verdict *struct {
		Odds []struct {
			Cause       string
			Probability float64
		}
	}
}

// reviewOf reviews the one pass of a record as the command does.
func reviewOf(t *testing.T, record string) reviewedPass {
	t.Helper()
	var answer struct{ Passes []reviewedPass }
	runJSON(t, &answer, "review", record)
	if len(answer.Passes) != 1 {
		t.Fatalf("%d passes, want the one", len(answer.Passes))
	}
	return answer.Passes[0]
}

// checkReview checks what the review makes of the short pass: the site and the time
// are the receiver's, not the computer's; each burst is what was pressed for it; and
// what was wrong was the noise, for a third of the pass, and a burst that nobody
// listened to.
func (r *passRun) checkReview() {
	t := r.t
	t.Helper()
	p := reviewOf(t, onlyRecord(t, r.state))
	if p.Site == nil || math.Abs(p.Site.LatitudeDeg-r.site.LatitudeDeg) > 1e-4 || math.Abs(p.Site.LongitudeDeg-r.site.LongitudeDeg) > 1e-4 {
		t.Errorf("reviewed from %+v, the receiver is at %+v", p.Site, r.site)
	}
	want := []struct{ outcome, strength string }{{"heard", "strong"}, {"silent", ""}, {"not listening", ""}, {"heard", ""}}
	if len(p.Bursts) != len(want) || p.Expected != len(want) || p.Unexpected != 0 {
		t.Fatalf("%d bursts expected, %d heard where none was, want %d and 0", p.Expected, p.Unexpected, len(want))
	}
	for i, b := range p.Bursts {
		if b.Outcome != want[i].outcome || b.Strength != want[i].strength || b.Time.Sub(r.bursts[i+1].Time).Abs() > time.Second || b.HeldBy == "" {
			t.Errorf("burst %d is %+v, want %+v at %v", i+1, b, want[i], r.bursts[i+1].Time)
		}
	}
	if len(p.Noise) != 1 || p.Noise[0].From.Sub(r.bursts[2].Time).Abs() > 10*time.Second || p.Noise[0].To.Sub(r.bursts[3].Time).Abs() > 10*time.Second {
		t.Errorf("the noise was up %+v, want from the second burst to the third", p.Noise)
	}
	if p.Verdict == nil {
		t.Fatal("no verdict")
	}
	first := []string{p.Verdict.Odds[0].Cause, p.Verdict.Odds[1].Cause}
	if !slices.Contains(first, review.Interference.String()) || !slices.Contains(first, review.NotListened.String()) {
		t.Errorf("odds %+v, true are noise and not listening", p.Verdict.Odds)
	}
}

// checkReviewed checks that the review of a record that many kills have cut counts
// the bursts that the screen showed as heard.
func checkReviewed(t *testing.T, record string, state outing.State) {
	t.Helper()
	p := reviewOf(t, record)
	heard, _ := tallyOf(state.Marks)
	if got := p.Heard + p.Unexpected; (got > 0) != (heard > 0) || got > heard { // several may be of one burst
		t.Errorf("%d bursts heard and %d where none was expected, marked were %d", p.Heard, p.Unexpected, heard)
	}
}

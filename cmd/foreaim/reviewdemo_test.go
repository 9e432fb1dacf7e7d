package main

import (
	"math"
	"slices"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/tui"
)

// The record that the whole program writes of the first pass of the demonstration
// is enough to review it. The satellite is late there: that comes first, the time
// is true within its 95 %, and both errors agree with what the program, which
// reckons in another way, believed at the end of the pass.
func TestReviewOfDemo(t *testing.T) {
	d := playDemo(t, func(c *tui.Config, w *world.World) {
		c.FacingDeg = w.BelievedDeg
		for i := range c.Targets {
			c.Targets[i].Likely, c.Targets[i].MarginDB = satellite{orbit: w.Satellites[i].Orbit}.likely, world.MarginDB
		}
	}, func(*demoPass) {})
	log := outing.Log{Records: d.record.all()}
	var believed outing.AdviceEntry
	for _, r := range log.Records {
		if e, ok := r.Entry.(outing.AdviceEntry); ok && e.Time.Time.Before(d.bursts[len(d.bursts)-1].Time.Add(time.Second)) {
			believed = e
		}
	}
	passes := review.Of([]outing.Log{log}, review.Settings{MarginDB: world.MarginDB, MarginKnown: true}).Passes
	if len(passes) != 1 || !passes[0].Verdict.Given {
		t.Fatalf("%d passes, want one with a verdict: %v", len(passes), passes[0].Missing)
	}
	p := passes[0]
	if heard := p.Count(review.Heard); heard != len(d.sounded) {
		t.Errorf("%d bursts heard, %d sounded", heard, len(d.sounded))
	}
	if first := p.Verdict.Odds[0]; first.Cause != review.Elements || first.Probability < 0.6 {
		t.Errorf("first of the causes is %v with %.2f", first.Cause, first.Probability)
	}
	if !slices.ContainsFunc(p.Verdict.Sets, func(s review.Together) bool {
		return slices.Equal(s.Causes, []review.Cause{review.North, review.Elements})
	}) {
		t.Errorf("north and elements together, which is true, is not among %v", p.Verdict.Sets)
	}
	late, north := p.Estimates.TimeErrorS, p.Estimates.HeadingErrorDeg
	if off := late.Mean - d.world.Satellites[0].LateS; math.Abs(off) > 2*late.Sigma || late.Sigma > 40 {
		t.Errorf("%.0f s late, give or take %.0f, is %.0f s", late.Mean, late.Sigma, d.world.Satellites[0].LateS)
	}
	if off := late.Mean - believed.TimeErrorS.Value; math.Abs(off) > 1.5*math.Hypot(late.Sigma, believed.TimeErrorSigmaS.Value) {
		t.Errorf("%.0f s late, the program believed %.0f s", late.Mean, believed.TimeErrorS.Value)
	}
	if off := north.Mean - believed.HeadingErrorDeg.Value; math.Abs(off) > 1.5*math.Hypot(north.Sigma, believed.HeadingErrorSigmaDeg.Value) {
		t.Errorf("north off by %.0f°, the program believed %.0f°", north.Mean, believed.HeadingErrorDeg.Value)
	}
	for _, b := range p.Bursts {
		if b.Source == review.Nowhere || !b.AimErrorDeg.Known {
			t.Errorf("burst %d: where the antenna was held is unknown", b.Number)
		}
	}
}

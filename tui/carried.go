package tui

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track/aim"
	"foreaim/track/outing"
)

// carried is what was learned in one pass and holds for the next: how late a
// satellite is against its elements, and how wrong north is. When bursts come is
// not carried over: beacons keep no time from one orbit to the next.
type carried struct {
	facing  facing          // of now
	late    map[int]outcome // by target
	heading outcome
	north   map[string]Earlier // from earlier outings

	pass subject // that is being learned from
	now  outcome // of its time error
	head outcome // of its heading error

	words string // what the pass begins with; empty where that is nothing learned
}

// outcome is an error as it was learned.
type outcome struct {
	given
	at        time.Time // zero: nothing was learned
	facingDeg float64   // when it was learned
	recorded  bool      // read from a record, in which it rests on all marks before
}

// resume takes what a record tells last.
func (c *carried) resume(r *outing.State, target int) {
	a := r.Advice
	if a == nil || !(a.TimeErrorSigmaS.Value > 0) || !(a.HeadingErrorSigmaDeg.Value > 0) {
		return
	}
	c.late = map[int]outcome{target: {given{a.TimeErrorS.Value, a.TimeErrorSigmaS.Value}, r.AdviceAt, 0, true}}
	if r.Facing != nil && !r.FacingAt.After(r.AdviceAt) {
		c.heading = outcome{given{a.HeadingErrorDeg.Value, a.HeadingErrorSigmaDeg.Value}, r.AdviceAt, r.Facing.AzimuthDeg.Value, true}
	}
}

// of tells whether it can be taken for a pass: marks in the pass count by
// themselves.
func (o outcome) of(u subject) bool {
	return !o.at.IsZero() && !(o.recorded && o.at.After(u.rise))
}

// learn takes what is believed now.
func (c *carried) learn(u subject, a aim.Advice, now time.Time) {
	c.pass = u
	if !a.Learned || !a.Explains {
		return
	}
	c.now = outcome{given{a.TimeErrorS.Mean, a.TimeErrorS.Sigma}, now, c.facing.deg, false}
	c.head = outcome{given{a.HeadingErrorDeg.Mean, a.HeadingErrorDeg.Sigma}, now, c.facing.deg, false}
}

// settle keeps what the pass has taught, the heading only where the facing is the
// same.
func (c *carried) settle(heading bool) {
	if c.late == nil {
		c.late = map[int]outcome{}
	}
	if !c.now.at.IsZero() {
		c.late[c.pass.target] = c.now
	}
	switch {
	case !heading:
		c.heading = outcome{}
	case !c.head.at.IsZero():
		c.heading = c.head
	}
	c.now, c.head = outcome{}, outcome{}
}

// prior returns the errors to be expected in a pass that begins to be learned
// from.
func (c *carried) prior(u subject, s *scene) (late, heading given) {
	c.settle(true)
	late = given{0, s.off.sigmaS}
	var parts, earlier []string
	if o := c.late[u.target]; o.of(u) {
		late = o.aged(u.rise, s)
		parts = append(parts, "satellite "+sidedBy(late, " s", "late", "early"))
	} else if o := s.target.EarlierLate.outcome(); o.of(u) {
		late = o.aged(u.rise, s)
		earlier = append(earlier, "satellite "+sidedBy(late, " s", "late", "early"))
	}
	heading, expected := c.northOf(s.facing)
	if o := c.heading; o.of(u) && o.facingDeg == s.facing.deg {
		heading = given{o.mean, min(math.Hypot(o.sigma, leastDeg), s.facing.sigma())}
		parts = append(parts, "your north "+sidedBy(heading, "°", "right of true", "left of true"))
	} else if expected != "" {
		earlier = append(earlier, expected)
	}
	var words []string
	if len(parts) > 0 {
		words = append(words, "From before: "+strings.Join(parts, ", "))
		if !s.published.Known() {
			words = append(words, "Burst times are learned anew")
		}
	}
	if len(earlier) > 0 {
		words = append(words, fromEarlier(earlier...))
	}
	c.words = strings.Join(words, ". ")
	return late, heading
}

// sidedBy says an error with its side and its standard deviation.
func sidedBy(g given, unit, over, under string) string {
	side := over
	if g.mean < 0 {
		side = under
	}
	return fmt.Sprintf("%.0f%s %s ±%.0f", math.Abs(g.mean), unit, side, math.Ceil(g.sigma))
}

// aged is a time error some time later. What the elements leave open grows with
// their age, and an error that comes of wrong drag with its square (common
// practice, no source).
func (o outcome) aged(at time.Time, s *scene) given {
	g := o.given
	age, since := s.target.orbit.Elements().Age(at).Hours(), max(0, at.Sub(o.at).Hours())
	share := since / max(age, since, 1)
	g.sigma = min(math.Hypot(g.sigma, share*math.Hypot(2*g.mean, s.off.sigmaS)), max(s.off.sigmaS, g.sigma))
	return g
}

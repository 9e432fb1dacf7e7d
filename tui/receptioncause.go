package tui

import (
	"fmt"
	"math"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/radio"
)

// told is what the operator told of the noise.
type told struct {
	noise                     string // up, or nothing
	turnAway, weaken, tooMuch outing.Answer
	bypassed                  bool
}

// told gathers it: the mark, and the answers of the last noise test.
func (m *model) told() told {
	t := told{bypassed: m.config.NoiseWay == outing.Bypass}
	if m.marking.marks.NoiseIsUp() {
		t.noise = "up"
	}
	for _, a := range m.reception.answered {
		switch a.Topic {
		case outing.TurnAway:
			t.turnAway = a.Answer
		case outing.Weaken:
			t.weaken = a.Answer
		case outing.TooMuch:
			t.tooMuch = a.Answer
		}
	}
	return t
}

// silent is whether nothing was told.
func (t told) silent() bool { return t == told{bypassed: t.bypassed} }

// cause weighs what was told, seen and is known; nil where there is too little.
func (g *gathered) cause(t told, look track.Look) *radio.Diagnosis {
	if t.silent() && len(g.signals) == 0 {
		return nil
	}
	s, err := radio.NewSurvey(radio.Asked{
		Seen: g.Seen, Plan: g.Plan, Link: g.Link, Known: g.Incoming, Look: look,
		Evidence: radio.Evidence{
			Noise: t.noise, TurnAway: string(t.turnAway), Weaken: string(t.weaken), TooMuch: string(t.tooMuch), Bypassed: t.bypassed,
		},
	})
	if err != nil {
		return nil
	}
	return &s.Cause
}

// causeLines say the likely cause with its odds, or what to do to find it.
func (r *reception) causeLines(c *canvas, width int) []inkedLine {
	if r.reckoned == nil || r.reckoned.cause == nil {
		return nil
	}
	d := r.reckoned.cause
	if d.Cause == "" {
		return wrapped(c, d.Do, width)
	}
	for _, o := range d.Odds {
		if o.Cause == d.Cause {
			return wrapped(c, fmt.Sprintf("%s (%.0f %% likely)", d.Cause, min(math.Round(100*o.Probability), 99)), width)
		}
	}
	return wrapped(c, string(d.Cause), width)
}

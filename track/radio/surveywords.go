package radio

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

const (
	signalsListed = 12
	othersListed  = 2 // candidates beside the best
)

// Lines returns a survey in words, no line longer than 76 columns; those that
// begin with a blank belong to the one before.
func (s Survey) Lines() []string {
	var p page
	p.signals(s)
	p.products(s)
	p.overload(s)
	p.cause(s.Cause)
	p.remedies(s)
	for i, n := range s.Notes {
		if i == 0 {
			p.head("To bear in mind")
		}
		p.item("", n)
	}
	return p
}

// page is lines being written.
type page []string

func (p *page) head(text string) {
	if len(*p) > 0 {
		*p = append(*p, "")
	}
	*p = append(*p, text)
}

// item writes a text, wrapped, after a few words or further blanks that stand
// before it.
func (p *page) item(before, text string) {
	indent := "    "
	if strings.TrimSpace(before) == "" {
		indent += before
	}
	for _, line := range fold("  "+before, text, indent) {
		*p = append(*p, cut(line))
	}
}

func (p *page) signals(s Survey) {
	if len(s.Signals) == 0 {
		p.head("No signal stands out of the noise.")
		return
	}
	p.head(fmt.Sprintf("Signals seen, the strongest first (%s)", s.Unit))
	for i, g := range s.Signals {
		if i == signalsListed {
			p.item("", fmt.Sprintf("and %d weaker ones", len(s.Signals)-i))
			break
		}
		p.item("", fmt.Sprintf("%s, %.0f %s: %s", g.reach(), math.Round(g.Level)+0, s.Unit, g.words()))
		if g.Drop != nil {
			p.item("  ", "behind the attenuator it "+g.Drop.Words)
		}
	}
}

// reach writes what a signal occupies.
func (g Signal) reach() string {
	text := Transmitter{LowMHz: g.LowMHz, HighMHz: g.HighMHz}.Band()
	switch {
	case g.OpenLow && g.OpenHigh:
		return text + " and further both ways"
	case g.OpenLow:
		return text + " and further down"
	case g.OpenHigh:
		return text + " and further up"
	}
	return text
}

// words says what a signal may be, and how well that fits.
func (g Signal) words() string {
	switch {
	case !g.real():
		return "not on the air"
	case len(g.Candidates) == 0:
		return "not in the tables"
	}
	text := g.Candidates[0].words()
	for _, c := range g.Candidates[1:min(len(g.Candidates), 1+othersListed)] {
		text += "; or " + c.words()
	}
	if more := len(g.Candidates) - 1 - othersListed; more > 0 {
		text += fmt.Sprintf("; or %d more", more)
	}
	return text
}

func (c Candidate) words() string {
	text := c.Words
	var more []string
	if c.Where != "" {
		more = append(more, c.Where)
	}
	switch c.Fit {
	case EdgesFit:
		more = append(more, fmt.Sprintf("edges within %.1f MHz", max(0.1, math.Abs(c.LowOffMHz), math.Abs(c.HighOffMHz))))
	default:
		more = append(more, string(c.Fit))
	}
	if c.State != "" && c.State != "in use" {
		more = append(more, c.State)
	}
	if strings.HasPrefix(c.Check, "memory") {
		more = append(more, "table from memory")
	}
	return text + " (" + strings.Join(more, ", ") + ")"
}

func (p *page) products(s Survey) {
	if len(s.Products) == 0 {
		return
	}
	if s.Overload == nil {
		p.head("Can mix onto the channel, if strong enough")
	} else {
		p.head("Mix onto the channel (dBm there)")
	}
	for _, m := range s.Products[:min(5, len(s.Products))] {
		text := fmt.Sprintf("%s, order %d", m.Words, m.Order)
		if s.Overload != nil && m.LevelDBm != (Range{}) {
			text += ": " + m.LevelDBm.String()
		}
		p.item("", text)
	}
}

func (p *page) overload(s Survey) {
	if s.Overload == nil {
		return
	}
	p.head("How the chain bears it")
	for _, l := range s.Overload.Stages {
		p.item("", fmt.Sprintf("%s: %s; %s dBm in all, headroom %s dB", l.Name, l.Words(), l.TotalDBm, l.HeadroomDB))
	}
	p.item("", fmt.Sprintf("The noise rises by %s dB; the beacon loses %s dB of gain.", s.Overload.NoiseRiseDB, s.Overload.GainLossDB))
}

func (p *page) cause(d Diagnosis) {
	best := d.Odds[0]
	if d.Cause == "" {
		p.head("Cause: can't tell")
		for _, o := range d.Odds {
			if o.Probability >= 0.05 {
				p.item("", fmt.Sprintf("%.0f in 100: %s", 100*o.Probability, o.Cause))
			}
		}
	} else {
		p.head(fmt.Sprintf("Cause: %s (%.0f in 100)", d.Cause, min(99, 100*best.Probability)))
	}
	for i, r := range d.Reasons {
		if i == 0 {
			p.item("", "For "+string(best.Cause)+" speaks:")
		}
		p.item("  ", r)
	}
	for _, g := range d.Guilty {
		p.item("by ", g)
	}
	p.item("", d.Do)
}

func (p *page) remedies(s Survey) {
	if s.Advice == "" {
		return
	}
	p.head("What to change")
	p.item("", s.Advice)
	for _, r := range s.Remedies {
		p.item("", fmt.Sprintf("%s: %s. %s Margin for hearing %s dB.", r.Kind, r.Verdict, r.Words, r.HearingMarginDB))
	}
	var said []string
	for _, r := range s.Remedies {
		if r.Caution != "" && !slices.Contains(said, r.Caution) {
			said = append(said, r.Caution)
			p.item("", "Caution: "+r.Caution)
		}
	}
}

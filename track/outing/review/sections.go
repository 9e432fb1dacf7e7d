package review

import (
	"fmt"
	"math"
	"strings"
)

// Section is a part of what a review tells in words.
type Section struct {
	Title string // empty: the verdict, which comes first
	Lines []Line
}

// Line is a paragraph behind a lead, such as "- "; its further lines are indented
// as far.
type Line struct{ Lead, Text string }

// Counts says how many bursts were expected and what became of them.
func (p *Pass) Counts() string {
	parts := []string{fmt.Sprintf("%d expected", len(p.Bursts))}
	for _, o := range []Outcome{Heard, Silent, NotListening, Unmarked} {
		if n := p.Count(o); n > 0 || o == Heard {
			parts = append(parts, fmt.Sprintf("%d %s", n, o))
		}
	}
	if n := len(p.Strays); n > 0 {
		parts = append(parts, fmt.Sprintf("%d heard where none was expected", n))
	}
	return "bursts: " + strings.Join(parts, ", ")
}

// Sections says what happened and what to change, what matters most first. The
// texts may hold what stood in the record, as it stood there.
func (p *Pass) Sections() []Section {
	v := p.Verdict
	words := v.Words
	if !v.Given {
		words = "No verdict: the record says too little."
	}
	all := []Section{{Lines: append([]Line{{"", words}}, dashed(p.Missing)...)}}
	add := func(title string, lines []Line) {
		if len(lines) > 0 {
			all = append(all, Section{title, lines})
		}
	}
	add("Known by now", dashed(p.Errors()))
	var change []Line
	for i, c := range v.Change {
		change = append(change, Line{fmt.Sprintf("%d. ", i+1), fmt.Sprintf("%s (about %.1f bursts more)", c.Words, c.Bursts)})
	}
	add("What to change, most worth first", change)
	add("What to bring next time", dashed(v.Bring))
	add("Odds (two may be at work at once)", v.odds())
	return all
}

func dashed(texts []string) (lines []Line) {
	for _, t := range texts {
		lines = append(lines, Line{"- ", t})
	}
	return lines
}

// tellOdds is how likely a cause must be for its evidence to be told.
const tellOdds = 0.1

func (v Verdict) odds() (lines []Line) {
	if !v.Given {
		return nil
	}
	for _, o := range v.Odds {
		lines = append(lines, Line{chance(o.Probability) + "  ", o.Cause.String()})
		if o.Probability < tellOdds {
			continue
		}
		for _, e := range o.For {
			lines = append(lines, Line{"        + ", e})
		}
		for _, e := range o.Against {
			lines = append(lines, Line{"        - ", e})
		}
	}
	return append(lines, Line{chance(v.NothingWrong) + "  ", "nothing wrong that counts"})
}

// chance is a probability in six columns; only what is certain is 0 or 100 %.
func chance(p float64) string { return fmt.Sprintf("%4.0f %%", min(99, max(1, math.Round(100*p)))) }

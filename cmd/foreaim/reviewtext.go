package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track/outing/review"

	"github.com/charmbracelet/x/ansi"
)

// reviewText tells a review to people.
func (sys system) reviewText(answer review.Review, r *reviewFlags) string {
	w := reviewWriter{system: sys, columns: min(max(sys.width, 40), 100)}
	for _, l := range answer.Lasting {
		w.say("", l.Words)
	}
	for i, p := range answer.Passes {
		if i > 0 || len(answer.Lasting) > 0 {
			w.WriteString("\n")
		}
		w.pass(p, r)
	}
	return w.String()
}

// reviewWriter writes text that fits a width.
type reviewWriter struct {
	strings.Builder
	system
	columns int
}

// say writes a paragraph behind a lead, its further lines indented as far.
func (w *reviewWriter) say(lead, text string) {
	indent := strings.Repeat(" ", ansi.StringWidth(lead))
	for i, line := range strings.Split(ansi.Wordwrap(plain(text), w.columns-len(indent), ""), "\n") {
		if i > 0 {
			lead = indent
		}
		w.WriteString(strings.TrimRight(lead+line, " ") + "\n")
	}
}

func (w *reviewWriter) pass(p review.Pass, r *reviewFlags) {
	w.head(p, r)
	w.WriteString("\n")
	if p.Verdict.Given {
		w.say("", p.Verdict.Words)
	} else {
		w.say("", "No verdict: the record says too little.")
	}
	for _, m := range p.Missing {
		w.say("- ", m)
	}
	w.list("\nKnown by now", p.Errors())
	if len(p.Verdict.Change) > 0 {
		w.WriteString("\nWhat to change, most worth first\n")
		for i, c := range p.Verdict.Change {
			w.say(fmt.Sprintf("%d. ", i+1), fmt.Sprintf("%s (about %.1f bursts more)", c.Words, c.Bursts))
		}
	}
	w.list("\nWhat to bring next time", p.Verdict.Bring)
	w.odds(p.Verdict)
	w.bursts(p)
}

func (w *reviewWriter) head(p review.Pass, r *reviewFlags) {
	title := p.Satellite
	if title == "" {
		title = "unknown satellite"
	}
	if p.Demo {
		title += " (a demonstration, nothing in it is real)"
	}
	w.say("", title)
	if !p.Rise.Time.IsZero() {
		w.say("", fmt.Sprintf("from %s to %s (%s UTC), highest %.0f°", w.localTime(p.Rise.Time),
			p.Set.Time.In(w.local).Format(time.TimeOnly), w.utcTime(p.Rise.Time), p.Peak.ElevationDeg))
	}
	if where := r.placeWords(p); where != "" {
		w.say("", "seen from "+where)
	}
	parts := []string{fmt.Sprintf("%d expected", len(p.Bursts))}
	for _, o := range []review.Outcome{review.Heard, review.Silent, review.NotListening, review.Unmarked} {
		if n := p.Count(o); n > 0 || o == review.Heard {
			parts = append(parts, fmt.Sprintf("%d %s", n, o))
		}
	}
	if n := len(p.Strays); n > 0 {
		parts = append(parts, fmt.Sprintf("%d heard where none was expected", n))
	}
	w.say("", "bursts: "+strings.Join(parts, ", "))
}

func (w *reviewWriter) list(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.WriteString(title + "\n")
	for _, l := range lines {
		w.say("- ", l)
	}
}

// tellOdds is how likely a cause must be for its evidence to be told.
const tellOdds = 0.1

func (w *reviewWriter) odds(v review.Verdict) {
	if !v.Given {
		return
	}
	w.WriteString("\nOdds (two may be at work at once)\n")
	for _, o := range v.Odds {
		w.say(fmt.Sprintf("%s  ", chance(o.Probability)), o.Cause.String())
		if o.Probability < tellOdds {
			continue
		}
		for _, e := range o.For {
			w.say("        + ", e)
		}
		for _, e := range o.Against {
			w.say("        - ", e)
		}
	}
	w.say(chance(v.NothingWrong)+"  ", "nothing wrong that counts")
}

// chance is a probability in six columns; only what is certain is 0 or 100 %.
func chance(p float64) string { return fmt.Sprintf("%4.0f %%", min(99, max(1, math.Round(100*p)))) }

// bursts is the table; on a narrow screen without the directions.
func (w *reviewWriter) bursts(p review.Pass) {
	if len(p.Bursts) == 0 {
		return
	}
	w.WriteString("\n")
	wide := w.columns >= 80
	t := newTable(">No", "Time", "Became", ">Off", ">Margin", ">Hz off")
	if wide {
		t = newTable(">No", "Time", "Became", ">Satellite", ">Held", "by", ">Off", ">Margin", ">Hz off")
	}
	for _, b := range p.Bursts {
		became := string(b.Outcome)
		if b.Strength != "" {
			became += ", " + string(b.Strength)
		}
		if b.NoiseUp && wide {
			became += ", noise"
		}
		cells := []string{fmt.Sprint(b.Number), b.Time.In(w.local).Format(time.TimeOnly), became}
		if wide {
			satellite, held := "", ""
			if b.Found.RangeKm > 0 {
				satellite = fmt.Sprintf("%.0f° %.0f°", b.Found.AzimuthDeg, math.Round(b.Found.ElevationDeg)+0)
			}
			if b.Source != review.Nowhere {
				held = fmt.Sprintf("%.0f° %.0f°", b.Held.AzimuthDeg, math.Round(b.Held.ElevationDeg)+0)
			}
			cells = append(cells, satellite, held, string(b.Source))
		}
		off, margin, hz := "", "", ""
		if b.AimErrorDeg.Known {
			off = fmt.Sprintf("%.0f°", b.AimErrorDeg.Value)
		}
		if b.MarginDB.Known {
			margin = fmt.Sprintf("%.0f dB", math.Round(b.MarginDB.Value)+0)
		}
		if b.OffsetHz.Known {
			hz = fmt.Sprintf("%+.0f", b.OffsetHz.Value)
		}
		t.add(append(cells, off, margin, hz)...)
	}
	w.WriteString(t.String())
}

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
	for _, section := range p.Sections() {
		w.WriteString("\n")
		if section.Title != "" {
			w.say("", section.Title)
		}
		for _, l := range section.Lines {
			w.say(l.Lead, l.Text)
		}
	}
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
		utc := ""
		if !w.readsUTC(p.Rise.Time) {
			utc = fmt.Sprintf(" (%s to %s UTC)", w.utcTime(p.Rise.Time), p.Set.Time.UTC().Round(time.Second).Format(time.TimeOnly))
		}
		w.say("", fmt.Sprintf("from %s to %s%s, highest %.0f°", w.localTime(p.Rise.Time),
			p.Set.Time.Round(time.Second).In(w.local).Format(time.TimeOnly), utc, p.Peak.ElevationDeg))
	}
	if where := r.placeWords(p); where != "" {
		w.say("", "seen from "+where)
	}
	w.say("", p.Counts())
}

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
				satellite = sayWhole(b.Found.AzimuthDeg, b.Found.ElevationDeg)
			}
			if b.Source != review.Nowhere {
				held = sayWhole(b.Held.AzimuthDeg, b.Held.ElevationDeg)
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

// sayWhole says a direction in whole degrees.
func sayWhole(azimuthDeg, elevationDeg float64) string {
	return fmt.Sprintf("%s %.0f°", wholeTrue(azimuthDeg), math.Round(elevationDeg)+0)
}

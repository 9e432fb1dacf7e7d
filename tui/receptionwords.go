package tui

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track/radio"
)

// headline says whether the beacon can be heard now.
func (r *reception) headline(s *scene) []string {
	title := "RECEPTION"
	if s.target.orbit != nil {
		title += " of " + fit(24, s.target.Name)
	}
	if r.reckoned == nil {
		return []string{title, "RECEPTION"}
	}
	word := marginWord(r.reckoned.now.Level.HearingMarginDB)
	short := "RECEPTION: " + word
	if s.target.FrequencyHz > 0 {
		return []string{title + " " + megahertz(s.target.FrequencyHz) + ": " + word + " " + r.reckoned.where, title + ": " + word, short}
	}
	return []string{title + ": " + word + " " + r.reckoned.where, short}
}

// marginWord says a margin for hearing in words.
func marginWord(margin radio.Range) string {
	switch {
	case margin.High < 0:
		return "not heard"
	case margin.Low < 0:
		return "may be heard"
	}
	return "heard"
}

// caution is what harm the best remedy could do.
func (r *reception) caution() string {
	if r.reckoned == nil || len(r.reckoned.advice.Remedies) == 0 {
		return ""
	}
	return r.reckoned.advice.Remedies[0].Caution
}

// shortOrOver says a margin against what it takes.
func shortOrOver(margin radio.Range) string {
	switch {
	case math.IsInf(margin.Low, -1):
		return "far short"
	case margin.High < 0:
		return fmt.Sprintf("%s dB short", radio.Range{}.Minus(margin))
	case margin.Low < 0:
		return fmt.Sprintf("from %.0f dB short to %.0f dB over", math.Ceil(-margin.Low), math.Floor(margin.High))
	}
	return fmt.Sprintf("%s dB over", margin)
}

// marginLines say by how much the beacon is heard, now and at the next bursts.
func (r *reception) marginLines(c *canvas, s *scene, width int) []inkedLine {
	if r.reckoned == nil {
		return wrapped(c, "Not reckoned: "+r.known.Missing, width)
	}
	k := r.reckoned
	level := k.now.Level
	ink := plain
	if level.HearingMarginDB.High < 0 {
		ink = warning
	}
	first := k.where + " " + shortOrOver(level.HearingMarginDB)
	more := "; to decode it " + shortOrOver(level.DecodingMarginDB)
	lines := []inkedLine{{c.fit(width, first+more, first, fmt.Sprintf("%s %s dB", k.where, level.HearingMarginDB)), ink}}
	text, used := "", 0
	for i, b := range k.bursts {
		part := fmt.Sprintf("in %s %s dB", span(b.at.Sub(s.now)), b.margin)
		if i == 0 {
			part = "bursts: " + part
		} else {
			part = ", " + part
		}
		if cells(text)+cells(part) > width {
			break
		}
		text += part
		used++
	}
	if used > 0 {
		lines = append(lines, inkedLine{c.fit(width, text), plain})
	}
	if len(r.known.Incoming) == 0 {
		return lines
	}
	if k.now.NoiseRiseDB.High >= 0.05 {
		lines = append(lines, inkedLine{c.fit(width, fmt.Sprintf("strong transmitters raise the noise by %s dB", k.now.NoiseRiseDB), fmt.Sprintf("noise up %s dB", k.now.NoiseRiseDB)), plain})
		if len(k.now.Products) > 0 {
			made := clean(k.now.Products[0].Words)
			lines = append(lines, inkedLine{c.fit(width, "most of it is made of "+made, "mostly "+made, "mostly a product of several"), plain})
		}
	}
	return lines
}

// remedyLines say what to change and what harm that could do.
func (r *reception) remedyLines(c *canvas, width int) (what, caution []inkedLine) {
	if r.reckoned == nil {
		return nil, nil
	}
	a := r.reckoned.advice
	if len(a.Remedies) == 0 {
		if len(r.known.Incoming) == 0 {
			return nil, nil
		}
		return wrapped(c, a.Words, width), nil
	}
	best := a.Remedies[0]
	ink := plain
	text := fmt.Sprintf("%s Then %s dB: %s.", strings.TrimSuffix(best.Words, ".")+".", best.HearingMarginDB, best.Verdict)
	switch {
	case a.Now.Level.HearingMarginDB.Low >= 0:
		text = "Nothing needed. Better still: " + text
	case best.Verdict != radio.Enough && best.Verdict != radio.MayDo:
		text = "Nothing known is enough. " + text
		ink = strong
	default:
		ink = strong
	}
	what = wrapped(c, text, width)
	for i := range what {
		what[i].i = ink
	}
	return what, wrapped(c, r.caution(), width)
}

// otherLines say the remedies beside the best.
func (r *reception) otherLines(c *canvas, width int) (lines []inkedLine) {
	if r.reckoned == nil || len(r.reckoned.advice.Remedies) < 2 {
		return nil
	}
	for _, m := range r.reckoned.advice.Remedies[1:] {
		lines = append(lines, wrapped(c, fmt.Sprintf("%s: %s. %s dB.", capital(string(m.Kind)), m.Verdict, m.HearingMarginDB), width)...)
	}
	return lines
}

// chainLines say how each stage of the chain stands it, those that don't first.
func (r *reception) chainLines(c *canvas, width int) []inkedLine {
	if r.reckoned == nil {
		return nil
	}
	var bad, good []inkedLine
	loads := r.reckoned.now.Stages
	for _, stage := range r.known.Link.Chain.Stages {
		name := clean(stage.Name)
		if name == "" {
			name = string(stage.Kind)
		}
		name = fit(16, name)
		active := stage.Kind == radio.Preamplifier || stage.Kind == radio.Receiver
		if !active || len(loads) == 0 {
			good = append(good, inkedLine{c.fit(width, fmt.Sprintf("%s: %+.1f dB, can't be overloaded", name, stage.GainDB), name), plain})
			continue
		}
		l := loads[0]
		loads = loads[1:]
		if math.IsInf(l.HeadroomDB.Low, 1) {
			good = append(good, inkedLine{c.fit(width, fmt.Sprintf("%s: nothing strong is known", name), name), plain})
			continue
		}
		word := l.Words()
		line := inkedLine{c.fit(width,
			fmt.Sprintf("%s: headroom %s dB, %s", name, l.HeadroomDB, word),
			fmt.Sprintf("%s: %s dB, %s", name, l.HeadroomDB, word),
			name+": "+word), plain}
		if l.HeadroomDB.Low < 0 {
			if l.HeadroomDB.High < 0 {
				line.i = warning
			}
			bad = append(bad, line)
			continue
		}
		good = append(good, line)
	}
	return append(bad, good...)
}

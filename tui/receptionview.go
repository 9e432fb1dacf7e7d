package tui

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/radio"
)

// part is a part of the view that may be drawn in more or fewer rows.
type part struct {
	label string
	lines []inkedLine // the most important first
	draw  func(c *canvas, x, y, rows int)
	rows  int // given to it
}

// noTransmitters says how to make strong transmitters known.
const noTransmitters = "No strong transmitters are known: list them in a CSV file and name it with transmitters = \"FILE\" in the configuration, or --transmitters FILE."

// drawReception draws the view: what the beacon's margin is, what helps, the chain
// stage by stage, the transmitters, and the band.
func drawReception(c *canvas, s *scene, r *reception, configured bool, footer []string) {
	head := r.headline(s)
	c.text(1, 0, block, c.fit(c.columns-2, head...))
	c.bar(0, 0, c.columns, block)
	end := c.rows
	if c.rows > 3 {
		end--
		drawFooter(c, end, s, footer)
	}
	if text := r.waiting(s, configured); text != "" {
		drawLinesFrom(c, 2, end, wrap(c.glyphs.say(text), c.columns-2))
		return
	}
	width := c.columns - partLabel - 1
	margins := part{label: "To hear", lines: r.marginLines(c, s, width)}
	what, caution := r.remedyLines(c, width)
	remedy := part{label: "Change", lines: what}
	cause := part{label: "Cause", lines: r.causeLines(c, width)}
	danger := part{label: "Caution", lines: caution}
	others := part{label: "Or", lines: r.otherLines(c, width)}
	chain := part{label: "Chain", lines: r.chainLines(c, width)}
	masts := part{label: "Strong", draw: func(c *canvas, x, y, rows int) { r.drawTransmitters(c, s, x, y, rows) }}
	band := part{draw: func(c *canvas, x, y, rows int) { drawBand(c, r.known, r.list(), x, y, rows) }}
	list := len(r.list())
	if list == 0 {
		masts.draw, masts.lines = nil, wrapped(c, noTransmitters, width)
		list = len(masts.lines)
	}
	// What matters most gets its rows first.
	left := end - 1
	grow := func(p *part, rows int) {
		if p.draw == nil {
			rows = min(rows, len(p.lines))
		}
		more := max(0, min(rows-p.rows, left))
		p.rows, left = p.rows+more, left-more
	}
	grow(&margins, 1)
	grow(&remedy, 2)
	grow(&cause, 1)
	grow(&masts, min(list, 2))
	grow(&chain, 2)
	grow(&danger, 1)
	grow(&remedy, 3)
	grow(&masts, min(list, 4))
	grow(&danger, 2)
	grow(&chain, 3)
	if left >= leastBand {
		grow(&band, leastBand)
	}
	middling, most := middlingBand, mostBand
	if r.known != nil && len(r.known.signals) == 0 { // no levels to draw
		middling, most = leastBand, leastBand
	}
	grow(&margins, 3)
	grow(&remedy, len(what))
	grow(&cause, len(cause.lines))
	grow(&danger, len(caution))
	grow(&chain, len(chain.lines))
	grow(&masts, list)
	if band.rows > 0 {
		grow(&band, middling)
	}
	grow(&margins, len(margins.lines))
	grow(&others, len(others.lines))
	if band.rows > 0 {
		grow(&band, most)
	}
	if first, _, _ := strings.Cut(r.caution(), ". "); danger.rows < len(caution) { // no half a sentence
		danger.lines = wrapped(c, strings.TrimSuffix(first, ".")+".", width)
		danger.rows = min(danger.rows, len(danger.lines))
	}
	y, apart := 1, 0
	if parts := []part{margins, cause, remedy, danger, others, chain, masts, band}; left >= len(parts) {
		apart = 1
	}
	for _, p := range []part{margins, cause, remedy, danger, others, chain, masts, band} {
		if p.rows == 0 {
			continue
		}
		c.text(1, y, plain, p.label)
		if p.draw != nil {
			p.draw(c, partLabel, y, p.rows)
		}
		for i := range min(p.rows, len(p.lines)) {
			c.text(partLabel, y+i, p.lines[i].i, p.lines[i].text)
		}
		y += p.rows + apart
	}
}

// partLabel is the width of the labels of the parts.
const partLabel = 9

func wrapped(c *canvas, text string, width int) []inkedLine {
	var lines []inkedLine
	for _, line := range wrap(c.glyphs.say(clean(text)), width) {
		lines = append(lines, inkedLine{line, plain})
	}
	return lines
}

// waiting says what has to come first; empty where there is something to show.
func (r *reception) waiting(s *scene, configured bool) string {
	switch {
	case !configured:
		return "Nothing is known of the radio here. Write down your chain as [[chain]], the satellite's power and mode in [[satellite]], and name a file of strong transmitters with transmitters = \"FILE\" in the configuration."
	case s.stage == noSite || s.stage == noTarget:
		word, rest, _ := s.headline()
		return word + " " + rest[0]
	case r.known == nil:
		return "Reading the chain and the transmitters …"
	case r.known.err != nil:
		return wayOut(r.known.err)
	case r.reckoned == nil && r.known.around != nil:
		return "Reckoning …"
	}
	return ""
}

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

// towards says where a transmitter stands: in fists from straight ahead and as an
// azimuth, from the fullest to the shortest.
func (s *scene) towards(in radio.Incoming) []string {
	az := s.azimuth(in.BearingDeg)
	trueOnly := fmt.Sprintf("%03d°T", whole360(in.BearingDeg))
	if !s.facing.known {
		return []string{aim.CompassWord(in.BearingDeg) + " " + az, trueOnly}
	}
	turn := track.TurnDeg(s.facing.deg, in.BearingDeg)
	aside := asideWords(turn, s.fistDeg)
	return []string{aside + " " + az, strings.Replace(aside, " fists", "", 1) + " " + trueOnly, trueOnly}
}

// asideWords says a turn from straight ahead: "2.5 fists left".
func asideWords(turnDeg, fistDeg float64) string {
	n := math.Round(math.Abs(turnDeg)/fistDeg*2) / 2
	fists := "fists"
	if n <= 1 {
		fists = "fist"
	}
	switch {
	case n == 0:
		return "ahead"
	case math.Abs(turnDeg) > 180-fistDeg/2:
		return "behind"
	case turnDeg < 0:
		return fmt.Sprintf("%g %s left", n, fists)
	}
	return fmt.Sprintf("%g %s right", n, fists)
}

// harmWords are what a transmitter does, from the fullest to the shortest.
var harmWords = map[string][]string{
	radio.Overloads:    {"overloads the chain", "overloads"},
	radio.OnTheChannel: {"sends on the wanted channel", "on the channel"},
	radio.MayOverload:  {"may overload the chain", "may overload"},
	radio.Mixes:        {"makes noise with others", "makes noise"},
	radio.Harmless:     {"harmless"},
}

// drawTransmitters lists the transmitters about the chosen one.
func (r *reception) drawTransmitters(c *canvas, s *scene, x, y, rows int) {
	all := r.list()
	chosen, _ := r.chosen()
	at, name := 0, 0
	for i, t := range all {
		if t.Transmitter == chosen.Transmitter {
			at = i
		}
		name = max(name, cells(clean(t.Name)))
	}
	width := c.columns - x - 1
	name = min(name, max(8, width/4))
	top := min(max(0, at-rows/2), max(0, len(all)-rows))
	var lines [][]string
	for i := top; i < len(all) && i-top < rows; i++ {
		cursor := ' '
		if i == at {
			cursor = '>'
		}
		lines = append(lines, s.transmitterLine(all[i], fmt.Sprintf("%c%c %-*s", cursor, letterOf(i), name, fit(name, clean(all[i].Name)))))
	}
	form := 0
	for _, forms := range lines {
		for form < len(forms)-1 && cells(c.glyphs.say(forms[form])) > width+1 {
			form++
		}
	}
	for k, forms := range lines {
		c.text(x-1, y+k, plain, c.fit(width+1, forms[form]))
		if top+k == at {
			c.bar(x-1, y+k, name+3, strong)
		}
	}
}

// transmitterLine is a line of the list after its lead, from the fullest form to
// the shortest.
func (s *scene) transmitterLine(t radio.Severity, lead string) []string {
	where := s.towards(t.Incoming)
	short, last := where[min(1, len(where)-1)], where[len(where)-1]
	mhz, km := fmt.Sprintf("%.0f MHz", t.MiddleMHz()), fmt.Sprintf("%.0f km", t.DistanceKm)
	if t.DistanceKm < 10 {
		km = fmt.Sprintf("%.1f km", t.DistanceKm)
	}
	harm := harmWords[t.Words]
	if harm == nil {
		harm = []string{t.IsotropicDBm.String() + " dBm"}
	}
	var all []string
	for _, form := range [...]func(end string) string{
		func(end string) string { return fmt.Sprintf("%s  %9s  %-24s %7s  %s", lead, mhz, where[0], km, end) },
		func(end string) string { return fmt.Sprintf("%s %7s  %-15s %6s  %s", lead, mhz, short, km, end) },
		func(end string) string { return fmt.Sprintf("%s %-15s %6s %s", lead, short, km, end) },
		func(end string) string { return fmt.Sprintf("%s %-15s %s", lead, short, end) },
		func(end string) string { return fmt.Sprintf("%s %s %s", lead, last, end) },
	} {
		all = append(all, form(harm[0]), form(harm[len(harm)-1]))
	}
	return all
}

// letterOf names a transmitter in the list and the band.
func letterOf(i int) rune {
	if i < 26 {
		return 'a' + rune(i)
	}
	return '+'
}

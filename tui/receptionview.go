package tui

import "strings"

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
		c.lines(2, end, c.paragraph(nil, plain, "", text))
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
	y, apart, parts := 1, 0, []part{margins, cause, remedy, danger, others, chain, masts, band}
	if left >= len(parts) {
		apart = 1
	}
	for _, p := range parts {
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

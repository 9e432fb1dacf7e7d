package tui

import "strings"

// inkedLine is a line of text with its ink.
type inkedLine struct {
	text string
	i    ink
}

// paragraph adds a text behind a lead to lines, its further lines indented as far.
func (c *canvas) paragraph(lines []inkedLine, i ink, lead, text string) []inkedLine {
	wide := c.columns - 2 - cells(lead)
	if wide < 12 { // too narrow to indent
		lead, wide = strings.TrimLeft(lead, " "), c.columns-2-cells(strings.TrimLeft(lead, " "))
	}
	for _, part := range wrap(c.glyphs.say(clean(text)), wide) {
		lines = append(lines, inkedLine{strings.TrimRight(lead+part, " "), i})
		lead = strings.Repeat(" ", cells(lead))
	}
	return lines
}

// wrapped breaks a text into lines of a width of its own.
func wrapped(c *canvas, text string, width int) []inkedLine {
	var lines []inkedLine
	for _, line := range wrap(c.glyphs.say(clean(text)), width) {
		lines = append(lines, inkedLine{line, plain})
	}
	return lines
}

// lines writes lines from a row on, down to another, not included.
func (c *canvas) lines(y, end int, lines []inkedLine) {
	for _, line := range lines[:max(0, min(len(lines), end-y))] {
		c.text(1, y, line.i, line.text)
		y++
	}
}

package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// helpPage is the help, made from the key table.
type helpPage struct{ top int }

func (m *model) toggleHelp() tea.Cmd {
	if m.showing == onHelp {
		m.showing = onPointing
	} else {
		m.showing, m.help.top = onHelp, 0
	}
	return nil
}

// scroll moves the page.
func scroll(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		m.help.top = max(0, m.help.top+by)
		return nil
	}
}

// legend explains what the pointing view shows.
var legend = []string{
	"The window is the sky as you see it: the horizon below, straight up at the top, left is left. " +
		"A fist at arm's length is 10°. 1 is the hold to be in for the next burst, 2 to 9 follow, " +
		"the dot is the satellite now, the ring is the beam.",
	"Where no voice speaks, the bell tells: once to hold still, twice to go left, three times to go right, four times for the burst; " +
		"three that end slowly go up, three that begin slowly go down.",
	"* or ☼ is the sun and ) the moon; a square or H is the boom where a sensor on it points; landmarks stand along the ground. " +
		"Never look at the sun, least of all along the boom.",
	"T is true north, M is magnetic. Find north (w), or set the facing (f) to the azimuth that you look along: all turns count from there.",
}

// headings name the parts of the page.
var headings = []struct {
	view screen
	text string
}{{onPointing, "Pointing"}, {onNoise, "Noise test"}, {onPasses, "Passes"}, {onSatellites, "Satellites"}, {onChecks, "Checklist"}, {onSkyline, "Skyline"}, {onNorth, "Finding north"}, {onReception, "Reception"}, {onGround, "Ground"}, {onReview, "Review"}, {onHelp, "Help"}, {everywhere, "Everywhere"}}

// keyColumn is the width of the keys' column.
const keyColumn = 22

// lines returns the page for a width.
func (helpPage) lines(c *canvas, keys []binding) []inkedLine {
	width := c.columns - 2
	var lines []inkedLine
	for _, h := range headings {
		lines = append(lines, inkedLine{h.text, strong})
		for _, b := range keys {
			if b.View != string(h.view) {
				continue
			}
			names := c.glyphs.say(strings.Join(b.Keys, ", "))
			for _, words := range wrap(c.glyphs.say(b.Words), max(1, width-keyColumn)) {
				names += strings.Repeat(" ", max(1, keyColumn-cells(names)))
				lines = append(lines, inkedLine{c.fit(width, names+words), plain})
				names = ""
			}
		}
	}
	for _, text := range legend {
		lines = append(lines, inkedLine{})
		lines = c.paragraph(lines, plain, "", text)
	}
	return lines
}

// draw draws the page.
func (h *helpPage) draw(c *canvas, keys []binding) {
	lines := h.lines(c, keys)
	h.top = min(h.top, max(0, len(lines)-c.rows))
	for y := range c.rows {
		if i := h.top + y; i < len(lines) {
			c.text(1, y, lines[i].i, lines[i].text)
		}
	}
	if h.top+c.rows < len(lines) {
		c.right(c.columns, c.rows-1, block, c.fit(c.columns, " more below: j ", "j"))
	}
}

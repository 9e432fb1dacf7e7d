package tui

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
	"foreaim/track/aim"
)

// drawNorth draws the view: what straight ahead is, the ground line with what
// can be seen and what the references say, the ways, and what to do.
func drawNorth(c *canvas, s *scene, f *finder, footer []string) {
	ahead := s.aheadWords()
	c.text(1, 0, block, c.fit(c.columns-2, "FIND NORTH  "+ahead[0], ahead[0], ahead[len(ahead)-1]))
	c.bar(0, 0, c.columns, block)
	y := 1
	if w, ok := s.northWindow(c); ok {
		c.paste(0, y, w.draw(s.northSky(f)))
		y += w.rows + 2
	}
	end := c.rows
	if c.rows > 3 {
		end--
		drawFooter(c, end, s, footer)
	}
	below := f.saidLines(c, s)
	if f.walk != nil || f.turn != nil {
		y = f.drawTask(c, y)
		c.lines(y+1, end, below)
		return
	}
	c.text(1, y, plain, f.crossLine(c, s))
	y++
	how := f.howLines(c)
	room := end - y
	below = below[:min(len(below), max(room-len(how)-3, 0))]
	rows := min(len(f.ways), room-len(how)-len(below))
	f.drawWays(c, y, rows)
	y += max(rows, 0)
	c.lines(y, end, how)
	c.lines(end-len(below), end, below)
}

// crossLine says where what is looked at stands.
func (f *finder) crossLine(c *canvas, s *scene) string {
	words := aim.AheadWords(f.rightDeg, s.fistDeg)
	if f.boom.follows {
		return c.fit(c.columns-2, "It stands "+words+"   (the cross follows the boom)", words)
	}
	return c.fit(c.columns-2, "It stands "+words+"   (the arrow keys move the cross to where you see it)", "It stands "+words+"  (arrow keys)", words)
}

// drawTask draws the walk or the turn under way and returns the row below.
func (f *finder) drawTask(c *canvas, y int) int {
	word, rest, then := "", []string(nil), ""
	if f.walk != nil {
		word, rest = f.walk.words()
		then = f.walk.then()
	} else {
		word, rest = f.turn.words()
		then = f.turn.then()
	}
	var head []string
	for _, text := range prefix(word+"  ", rest) {
		text = c.glyphs.say(text)
		if head = []string{text}; cells(text) <= c.columns-2 {
			break
		}
		head = wrap(text, c.columns-2)
	}
	for _, line := range head {
		c.text(1, y, still, line)
		c.bar(0, y, c.columns, still)
		y++
	}
	for _, line := range wrap(c.glyphs.say(then), c.columns-2) {
		c.text(1, y, plain, line)
		y++
	}
	return y
}

// drawWays lists the ways about the chosen one.
func (f *finder) drawWays(c *canvas, y, rows int) {
	chosen, _ := f.way()
	at, width := 0, 0
	for i, w := range f.ways {
		if w.name == chosen.name {
			at = i
		}
		width = max(width, cells(w.name))
	}
	width = min(width, max(c.columns/3, 8))
	top := min(max(0, at-rows/2), max(0, len(f.ways)-rows))
	for i := top; i < len(f.ways) && i-top < rows; i++ {
		w := f.ways[i]
		how, cursor := plain, "  "
		if i == at {
			how, cursor = strong, "> "
		}
		name := pad(c, c.fit(width, w.name), strings.Repeat(" ", width))
		worth := pad(c, fmt.Sprintf("±%d°", max(whole(w.sigmaDeg), 1)), "±10°") + " " + w.note
		if w.refusal != "" {
			worth = "no: " + lower(w.refusal)
		}
		c.text(1, y+i-top, how, c.fit(c.columns-2, cursor+name+"  "+worth))
	}
}

// pad fills a text up to the width of another, as the canvas will write both.
func pad(c *canvas, text, to string) string {
	return text + strings.Repeat(" ", max(0, cells(c.glyphs.say(to))-cells(c.glyphs.say(text))))
}

// howLines says how the chosen way goes.
func (f *finder) howLines(c *canvas) []inkedLine {
	w, ok := f.way()
	if !ok {
		return nil
	}
	if w.refusal != "" {
		return c.paragraph(nil, plain, "", capital(w.refusal)+".")
	}
	return c.paragraph(c.paragraph(nil, warning, "", w.caution), plain, "", w.howTo)
}

// sureDeg is as sure as a facing needs to be for the usual beam (common practice,
// no source).
const sureDeg = 5.0

// saidLines says what was taken, how it goes together and what to do next.
func (f *finder) saidLines(c *canvas, s *scene) []inkedLine {
	var lines []inkedLine
	add := func(text string, i ink) { lines = c.paragraph(lines, i, "", text) }
	if f.note != "" {
		add(f.note, plain)
	}
	if f.check != nil {
		add(f.check.String(), warning)
	}
	if len(f.taken) == 0 {
		if !s.facing.known && f.walk == nil && f.turn == nil {
			add("Nothing taken yet. Take the best that you can see, then one of another kind.", plain)
		}
		return lines
	}
	differ := len(f.said.Differences) > 0 || len(f.said.LeftOut) > 0
	for _, line := range f.said.Lines() {
		how := plain
		if differ && strings.Contains(line, "differ") || strings.HasPrefix(line, "left out") {
			how = warning
		}
		add(line, how)
	}
	if named := len(f.said.LeftOut) > 0; (!differ || named) && len(f.said.Used) > 1 && f.said.SigmaDeg <= sureDeg {
		add("sure enough: Esc goes back to pointing", plain)
	}
	for k := len(f.taken) - 1; k >= 0; k-- {
		add(fmt.Sprintf("%c %s", 'a'+k, f.taken[k].Line(s.now)), plain)
	}
	return lines
}

// aheadWords says what is straight ahead and how surely.
func (s *scene) aheadWords() []string {
	switch {
	case !s.facing.known:
		return []string{"straight ahead may be anywhere", "ahead: anywhere"}
	case s.facing.ahead != "":
		words := within(s.facing.deg, s.facing.sigmaDeg)
		return []string{"straight ahead (" + s.facing.ahead + ") is " + words, "straight ahead is " + words, "ahead " + words}
	}
	words := within(s.facing.deg, s.facing.sigmaDeg)
	return []string{"straight ahead is " + words, "ahead " + words}
}

// northWindow is the ground line with a little sky; false where there is no room.
func (s *scene) northWindow(c *canvas) (window, bool) {
	rows := 3
	switch {
	case c.rows < 15 || c.columns < 30:
		return window{}, false
	case c.rows >= 34:
		rows = 9
	}
	w := window{glyphs: c.glyphs, columns: min(360/columnDeg, c.columns-axis), rows: rows, columnDeg: columnDeg, fistDeg: s.fistDeg, ahead: true}
	w.centreDeg, w.blind = s.facing.deg, !s.facing.known
	return w, true
}

// northSky is what the window of the view shows.
func (s *scene) northSky(f *finder) sky {
	ahead := s.facing.deg
	k := sky{hand: &aim.Direction{AzimuthDeg: track.Wrap360(ahead + f.rightDeg)}}
	if !s.facing.known {
		return k
	}
	k.sun, k.moon, k.landmarks, k.skyline = s.sun, s.moon, s.landmarks, s.skyline
	if s.sensed.known {
		k.boom = &s.sensed.boom
	}
	for i, t := range f.taken {
		k.said = append(k.said, saying{rune('a' + i), t.FacingDeg})
	}
	return k
}

// lower returns the text with its first letter in lower case.
func lower(s string) string {
	if r := []rune(s); len(r) > 0 {
		return strings.ToLower(string(r[0])) + string(r[1:])
	}
	return s
}

// moveHand moves the cross along the ground by fists.
func (m *model) moveHand(fists float64) {
	f := &m.finder
	f.boom.follows = false
	half := m.config.FistDeg / 2
	f.rightDeg = track.TurnDeg(0, math.Round(f.rightDeg/half)*half+fists*m.config.FistDeg)
}

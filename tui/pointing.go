package tui

import (
	"foreaim/track/aim"
)

// layout is how the rows of the pointing view are shared out.
type layout struct {
	digits  digitSize
	big     bool // digits fit at all
	window  int  // rows of sky; 0: no window
	columns int  // of sky
	side    bool // the following bursts stand beside the window
	lines   int  // rows of text below
}

// textRows are the lines below the window that are never given up for more sky:
// following bursts, satellite, pass, status, keys.
const textRows = 5

// windowSteps are the rows of sky that a height may be shared into, from two
// rows a fist down to three fists a row, each with the rows of text that it
// must leave.
var windowSteps = []struct{ rows, text int }{{18, textRows}, {9, textRows}, {6, textRows - 1}, {6, textRows - 2}, {3, 2}, {3, 1}}

// columnDeg is the azimuth of a column.
const columnDeg = 5

// share shares out a screen.
func share(columns, rows int, groups []group) layout {
	var l layout
	used := 2 // headline, pointing
	// Double digits leave room for the window at two rows a fist.
	limit := 5
	if rows >= 38 {
		limit = 10
	}
	l.digits, l.big = pickDigits(groups, columns, min(limit, rows-3))
	if l.big {
		used += 1 + l.digits.rows()
	}
	rest := rows - used
	if columns >= 40 {
		for _, w := range windowSteps {
			if rest >= w.rows+2+w.text {
				l.window = w.rows
				break
			}
		}
	}
	l.columns = min(360/columnDeg, columns-axis)
	l.side = l.window >= 9 && columns >= 110
	l.lines = rest
	if l.window > 0 {
		l.lines -= l.window + 2
	}
	return l
}

// drawPointing draws the pointing view.
func drawPointing(c *canvas, s *scene, footer []string) {
	if c.rows < 8 || c.columns < 30 {
		drawSmall(c, s)
		return
	}
	groups := s.groups()
	if len(groups) == 0 {
		drawMessage(c, s, footer)
		return
	}
	l := share(c.columns, c.rows, groups)
	y := 0
	if l.big {
		drawGroups(c, 0, l.digits, groups)
		y += 1 + l.digits.rows()
	}
	switch {
	case s.noise.question != "":
		s.noise.draw(c, y)
	case s.noise.aside != nil:
		drawHeadline(c, y, s)
		c.text(1, y+1, warning, c.fit(c.columns-2, s.noise.aside...))
	default:
		drawHeadline(c, y, s)
		c.text(1, y+1, plain, c.fit(c.columns-2, s.pointing()...))
	}
	y += 2
	if l.window > 0 {
		w := s.window(c.glyphs, l.columns, l.window)
		c.paste(0, y, w.draw(s.sky()))
		if l.side {
			drawSide(c, axis+l.columns+3, y, l.window+2, s)
		}
		y += l.window + 2
	}
	drawLines(c, y, s, l, footer)
}

// drawMessage draws the view while there is nothing to point at: what is going
// on, in whole sentences, and what is known besides.
func drawMessage(c *canvas, s *scene, footer []string) {
	word, rest, i := s.headline()
	c.text(1, 1, i, word)
	c.bar(0, 1, c.columns, i)
	y := 3
	lines := wrap(c.glyphs.say(capital(rest[0])), c.columns-2)
	for _, line := range lines[:min(len(lines), max(c.rows-y-textRows, 1))] {
		c.text(1, y, strong, line)
		y++
	}
	drawLines(c, y, s, layout{}, footer)
}

// drawHeadline draws the bar that says what to do.
func drawHeadline(c *canvas, y int, s *scene) {
	word, rest, i := s.headline()
	x := c.text(1, y, i, word) + 2
	c.text(x, y, i, c.fit(c.columns-x-1, rest...))
	c.bar(0, y, c.columns, i)
}

// window returns the window for the moment: centred on the facing, else on the
// middle of the pass.
func (s *scene) window(g glyphs, columns, rows int) window {
	w := window{glyphs: g, columns: columns, rows: rows, columnDeg: columnDeg, fistDeg: s.fistDeg}
	switch {
	case s.facing.known:
		w.centreDeg, w.ahead = s.facing.deg, true
	case s.pass != nil:
		w.centreDeg = s.pass.Peak.AzimuthDeg
	}
	return w
}

// sky returns what the window shows now.
func (s *scene) sky() sky {
	k := sky{skyline: s.skyline, path: s.path, beamDeg: s.beamDeg / 2, sun: s.sun, moon: s.moon, landmarks: s.landmarks}
	if s.sensed.known {
		k.boom = &s.sensed.boom
	}
	if s.hand != nil {
		hand := s.handAt()
		k.boom = &hand
	}
	if s.moment.Next != nil {
		k.holds = append(k.holds, s.moment.Next.Direction)
		for _, h := range s.moment.Following {
			if len(k.holds) == 9 {
				break
			}
			k.holds = append(k.holds, h.Direction)
		}
	}
	if s.lookOK {
		k.satellite = &aim.Direction{AzimuthDeg: s.look.AzimuthDeg, ElevationDeg: s.look.ElevationDeg}
	}
	return k
}

// drawSide lists the following bursts beside the window.
func drawSide(c *canvas, x, y, rows int, s *scene) {
	parts := s.followingParts()
	if len(parts) == 0 {
		return
	}
	c.text(x, y, plain, c.fit(c.columns-x, "Then", ""))
	for i, part := range parts {
		if i+2 > rows {
			return
		}
		c.text(x, y+1+i, plain, c.fit(c.columns-x, part))
	}
}

// drawLines draws the text below: the keys at the very bottom, above them what
// fits, the most needed kept longest.
func drawLines(c *canvas, y int, s *scene, l layout, footer []string) {
	rows := c.rows - y
	type line struct {
		need int // the lower, the longer kept
		draw func(y int)
	}
	text := func(candidates ...string) func(int) {
		return func(y int) { c.text(1, y, plain, c.fit(c.columns-2, candidates...)) }
	}
	var all []line
	marked, believed := len(s.tally.line()) > 0 || len(s.todo) > 0, s.believed()
	if s.noise.todo != "" {
		for _, part := range wrap(c.glyphs.say(s.noise.todo), c.columns-2) {
			all = append(all, line{0, text(part)})
		}
	} else if !l.side {
		need := 1
		if marked && (c.columns < 80 || len(believed) > 0) { // the window numbers them as well
			need = 4
		}
		all = append(all, line{need, text(c.glyphs.say(s.following(c.columns - 2)))})
	}
	now, nowNeed := s.satellite(), 2
	if len(believed) > 0 {
		how := plain
		if s.twist { // the voice says it, too
			how = strong
		}
		all = append(all, line{1, func(y int) { c.text(1, y, how, c.fit(c.columns-2, believed...)) }})
		if c.columns < 80 {
			nowNeed = 4
		}
	}
	if marked {
		if len(now) > 0 { // the line that names it is the first to go
			now = append([]string{now[0] + "  " + s.target.Name}, now...)
		}
		all = append(all, line{1, func(y int) { drawMarks(c, y, s) }})
	}
	all = append(all,
		line{nowNeed, text(now...)},
		line{5, text(s.clockOfPass()...)},
		line{0, func(y int) { drawStatus(c, y, s) }},
		line{3, func(y int) { drawFooter(c, y, s, footer) }},
	)
	for len(all) > rows {
		last := 0
		for i := range all {
			if all[i].need > all[last].need {
				last = i
			}
		}
		all = append(all[:last], all[last+1:]...)
	}
	for i, line := range all {
		line.draw(c.rows - len(all) + i)
	}
}

// drawMarks writes what was marked and, at the right of it, what the checklist
// asks for, which is the more urgent.
func drawMarks(c *canvas, y int, s *scene) {
	marked := s.tally.line()
	x, left := 1, c.columns-2
	if len(marked) > 0 {
		shortest := 0
		if len(s.todo) > 0 {
			shortest = cells(c.glyphs.say(s.todo[len(s.todo)-1])) + 3
		}
		x = c.text(x, y, plain, c.fit(left-shortest, marked...)) + 3
		left = c.columns - x - 1
	}
	if len(s.todo) > 0 {
		how := plain
		if s.insists && s.noise.aside == nil { // one thing to be done at a time
			how = warning
		}
		c.text(x, y, how, c.fit(left, s.todo...))
	}
}

// drawStatus writes the remarks on fix, clock and elements, shortened until all
// fit.
func drawStatus(c *canvas, y int, s *scene) {
	remarks := s.status()
	texts := make([]string, len(remarks))
	width := -2
	for i, r := range remarks {
		texts[i] = c.glyphs.say(r.long)
		width += cells(texts[i]) + 2
	}
	for i := len(remarks) - 1; i >= 0 && width > c.columns-2; i-- {
		short := c.glyphs.say(remarks[i].short)
		width -= cells(texts[i]) - cells(short)
		texts[i] = short
	}
	x := 1
	for i, r := range remarks {
		how := plain
		if r.warning {
			how = warning
		}
		if x > 1 && x+cells(texts[i]) > c.columns {
			return
		}
		x = c.text(x, y, how, c.fit(c.columns-x, texts[i])) + 2
	}
	// What is as it should be, for somebody who wants no record, is said last
	// and shortens nothing.
	if note := "not recorded"; !s.recorded && x+cells(note) < c.columns {
		c.text(x, y, plain, note)
	}
}

// drawFooter writes the keys and, at the right, the time.
func drawFooter(c *canvas, y int, s *scene, keys []string) {
	times := s.timeNow()
	switch {
	case s.sounds != "":
		// Heard for two seconds: it counts more than the local time.
		title := s.title + ": " + s.sounds
		times = append([]string{title + "  " + times[0], title + "  " + times[len(times)-1], title, s.sounds}, times...)
	case s.title != "":
		times[0] = s.title + "  " + times[0]
	}
	clock := c.fit(max(c.columns/2, 8), times...)
	right := c.columns - 1 - cells(clock)
	c.text(right, y, plain, clock)
	x := 1
	for _, key := range keys {
		key = c.glyphs.say(key)
		if x+cells(key) > right-1 {
			return
		}
		x = c.text(x, y, plain, key) + 2
	}
}

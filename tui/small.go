package tui

import "fmt"

// drawSmall draws a screen too small for big digits: azimuth, elevation and
// countdown on the first line, then what else has room.
func drawSmall(c *canvas, s *scene) {
	word, rest, i := s.headline()
	h := s.aimed()
	y := 0
	if h != nil {
		time := s.timeGroup()
		exactly := time.digits
		if spread := s.spread(); spread != "" {
			time.digits += " " + spread
		}
		az, el := whole360(h.AzimuthDeg), whole(h.ElevationDeg)
		c.text(0, 0, strong, c.fit(c.columns,
			fmt.Sprintf("%s  %d° up  %s %s", s.azimuth(h.AzimuthDeg), el, time.label, time.digits),
			fmt.Sprintf("%03d°T %d° up, %s", az, el, time.digits),
			fmt.Sprintf("%03d° %d° %s", az, el, exactly),
			fmt.Sprintf("%03d %d %s", az, el, exactly)))
		y++
	}
	if c.columns < 8 || y >= c.rows {
		if y == 0 {
			c.text(0, 0, i, c.fit(c.columns, word))
		}
		return
	}
	for k, line := range wrap(c.glyphs.say(word+" "+rest[len(rest)-1]), c.columns) {
		c.text(0, y, map[bool]ink{true: i, false: plain}[k == 0], line)
		y++
	}
	lines := [][]string{{s.noise.question}, s.noise.aside, {s.noise.todo}, s.pointing(), s.believed(), s.satellite(), s.clockOfPass(), s.todo, s.tally.line()}
	for _, r := range s.status() {
		lines = append(lines, []string{r.long, r.short})
	}
	for _, line := range lines {
		if len(line) > 0 && line[0] != "" {
			c.text(0, y, plain, c.fit(c.columns, line...))
			y++
		}
	}
}

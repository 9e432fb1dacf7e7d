package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
	"foreaim/track/terrain"
)

// outline is the view in which the skyline is entered.
type outline struct {
	cursor  aim.Direction
	entered []float64 // azimuths of the points entered here, in order
}

// openSkyline shows the view with the cursor straight ahead.
func (m *model) openSkyline() tea.Cmd {
	m.showing = onSkyline
	ahead := math.Round(m.scene.window(m.glyphs, 72, 9).centreDeg)
	m.outline.cursor = aim.Direction{AzimuthDeg: ahead, ElevationDeg: m.halfFists(m.tracker.skyline.ElevationDeg(ahead))}
	return nil
}

// halfFists rounds an elevation to half fists.
func (m *model) halfFists(deg float64) float64 {
	half := m.config.FistDeg / 2
	return math.Round(deg/half) * half
}

// moveOutline moves the cursor by fists along the ground and up.
func moveOutline(right, up float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		d, fist := &m.outline.cursor, m.config.FistDeg
		d.AzimuthDeg = track.Wrap360(d.AzimuthDeg + right*fist)
		d.ElevationDeg = min(max(d.ElevationDeg+up*fist, 0), terrain.HighestDeg)
		return nil
	}
}

// setPoint makes the cursor's place a point of the skyline.
func (m *model) setPoint() tea.Cmd {
	o := &m.outline
	azimuth, elevation := tidy(o.cursor.AzimuthDeg), tidy(o.cursor.ElevationDeg)
	with, err := m.tracker.layers.with(terrain.Point{AzimuthDeg: azimuth, ElevationDeg: elevation})
	if err != nil {
		m.tell(err.Error())
		return nil
	}
	o.entered = append(slices.DeleteFunc(o.entered, func(a float64) bool { return a == azimuth }), azimuth)
	m.tracker.setLayers(with)
	words := fmt.Sprintf("%s: %s", m.scene.azimuth(azimuth), aim.HeightWords(elevation, m.config.FistDeg))
	if len(m.tracker.skyline.Points()) == 1 {
		words += ", so far all the way round"
	}
	m.tell(words)
	return nil
}

// takePoint takes away the point entered last; when none is left of those
// entered here, the one at the cursor.
func (m *model) takePoint() tea.Cmd {
	o := &m.outline
	azimuth := tidy(o.cursor.AzimuthDeg)
	if n := len(o.entered); n > 0 {
		azimuth = o.entered[n-1]
		o.entered = o.entered[:n-1]
	}
	without, found := m.tracker.layers.without(azimuth)
	if !found {
		m.tell("There is no point at the cursor to take away")
		return nil
	}
	m.tracker.setLayers(without)
	m.tell("Taken away: the point at " + m.scene.azimuth(azimuth))
	return nil
}

// watchSkyline records how the skyline differs from the one in the record.
func (r *recording) watchSkyline(at time.Time, points []terrain.Point) {
	if slices.Equal(points, r.outline) {
		return
	}
	for _, p := range r.outline {
		if !slices.ContainsFunc(points, func(q terrain.Point) bool { return q.AzimuthDeg == p.AzimuthDeg }) {
			r.put(at, outing.CheckEntry{List: outing.ListSkyline, Answer: outing.AnswerRemoved, AzimuthDeg: number(p.AzimuthDeg)})
		}
	}
	for _, p := range points {
		if !slices.Contains(r.outline, p) {
			r.put(at, outing.CheckEntry{List: outing.ListSkyline, AzimuthDeg: number(p.AzimuthDeg), ElevationDeg: number(p.ElevationDeg)})
		}
	}
	r.outline = points
}

// markedPoints is how many points are marked in the window: those of a file with
// one for every degree would hide it.
const markedPoints = 60

// skylineAdvice tells how a skyline is entered, sentence by sentence.
var skylineAdvice = [...]string{
	"The skyline goes straight from point to point, all the way round: set one wherever it bends, and on the horizon where the view is free.",
	"Measure with fists at arm's length, from straight ahead and up from the horizon.",
}

// drawOutline draws the view.
func drawOutline(c *canvas, s *scene, o *outline, footer []string) {
	points := s.outline
	title := "Skyline: what hides the sky"
	c.text(1, 0, strong, c.fit(c.columns-2, fmt.Sprintf("%s (%d points)", title, len(points)), title, "Skyline"))
	at := s.azimuth(o.cursor.AzimuthDeg)
	height := aim.HeightWords(o.cursor.ElevationDeg, s.fistDeg)
	lines := []string{at + "  " + height}
	if s.facing.known {
		words := capital(aim.AheadWords(track.TurnDeg(s.facing.deg, o.cursor.AzimuthDeg), s.fistDeg)) + ", " + height
		lines = []string{words + "   " + at, words, lines[0]}
	}
	c.text(1, 1, block, c.fit(c.columns-2, lines...))
	c.bar(0, 1, c.columns, block)
	y := 2
	if w := s.outlineWindow(c, o, points); w.rows > 0 {
		k := sky{skyline: s.skyline, path: s.path, cursor: &o.cursor}
		for _, p := range points {
			if len(points) > markedPoints {
				break
			}
			k.points = append(k.points, aim.Direction{AzimuthDeg: p.AzimuthDeg, ElevationDeg: p.ElevationDeg})
		}
		c.paste(0, y, w.draw(k))
		y += w.rows + 2
	}
	below, _ := s.outlineLines(c, points, c.rows-1-y)
	c.lines(y, c.rows-1, below)
	if c.rows > 3 {
		drawFooter(c, c.rows-1, s, footer)
	}
}

// outlineLines are the points, and how to go on: the points as far as anybody reads
// them and some rows hold them, then as many whole sentences as these hold; and
// whether these are all.
func (s *scene) outlineLines(c *canvas, points []terrain.Point, rows int) (lines []inkedLine, all bool) {
	said := func(text string) []inkedLine { return c.paragraph(nil, plain, "", text) }
	var sentences []string
	if !s.facing.known {
		sentences = append(sentences, "Set the facing first (Esc, f): fists count from straight ahead.")
	}
	if s.hillsMissing != "" {
		sentences = append(sentences, "Hills are left out: "+s.hillsMissing+".")
	}
	sentences = append(sentences, skylineAdvice[:]...)
	advice := said(strings.Join(sentences, " "))
	for n := mostListed; n >= leastListed; n-- {
		if lines = said(pointsWords(points, n)); len(lines)+len(advice) <= rows {
			return append(lines, advice...), true
		}
	}
	for n := len(sentences) - 1; len(lines)+len(advice) > rows && n >= 0; n-- {
		advice = said(strings.Join(sentences[:n], " "))
	}
	return append(lines, advice...), false
}

// mostListed and leastListed are how many points are listed at most, and where there
// is little room.
const mostListed, leastListed = 12, 3

// pointsWords lists points, and how many more there are.
func pointsWords(points []terrain.Point, most int) string {
	switch n := len(points); {
	case n == 0:
		return "No point yet: nothing is hidden."
	case n > markedPoints:
		return fmt.Sprintf("%d points: too many to be marked.", n)
	}
	var parts []string
	for _, p := range points[:min(len(points), most)] {
		parts = append(parts, fmt.Sprintf("%03d° %d°", whole360(p.AzimuthDeg), whole(p.ElevationDeg)))
	}
	if more := len(points) - len(parts); more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	return "Points: " + strings.Join(parts, ", ")
}

// outlineWindow is the window of the view: centred on the facing while the cursor is
// in it, else on the cursor. It leaves room for all that is to be said below it, as
// long as it keeps six rows.
func (s *scene) outlineWindow(c *canvas, o *outline, points []terrain.Point) window {
	rows := 0
	for _, r := range [...]int{18, 9, 6, 3} {
		left := c.rows - 5 - r
		if _, all := s.outlineLines(c, points, left); left >= 2 && (all || r <= 6) && c.columns >= 30 {
			rows = r
			break
		}
	}
	w := s.window(c.glyphs, min(360/columnDeg, c.columns-axis), rows)
	if _, inside := w.place(aim.Direction{AzimuthDeg: o.cursor.AzimuthDeg}); !inside && rows > 0 {
		w.centreDeg, w.ahead = o.cursor.AzimuthDeg, false
	}
	return w
}

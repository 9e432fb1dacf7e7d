package tui

import (
	"fmt"
	"math"

	"foreaim/track"
	"foreaim/track/aim"
)

// window is the sky as somebody sees it who stands there: the horizon at the
// bottom, straight up at the top, left is left.
type window struct {
	glyphs        glyphs
	centreDeg     float64 // true azimuth in the middle
	columns, rows int     // of sky
	columnDeg     float64 // azimuth that a column covers
	fistDeg       float64
	ahead         bool // the middle is the facing, so fists count from it
	blind         bool // nobody knows which azimuth that is
}

// axis is the columns left of the sky that hold the elevations.
const axis = 3

// sky is what the window shows, in the order in which it is painted.
type sky struct {
	// skyline is the elevation of what hides the sky at a true azimuth, both in
	// degrees; nil where nothing does.
	skyline   func(azimuthDeg float64) float64
	path      []aim.Direction
	beamDeg   float64         // radius of the beam around the next hold; 0: not drawn
	holds     []aim.Direction // the next one first
	satellite *aim.Direction
	points    []aim.Direction // of the skyline that is being entered
	cursor    *aim.Direction  // the point to be entered
	sun, moon *aim.Direction  // nil: not in sight
	boom      *aim.Direction  // where a sensor says that it points
	landmarks []seenLandmark
	said      []saying       // by the references, of straight ahead
	hand      *aim.Direction // the cross on the ground
}

// spot is a place in the window: a column and a half row, 0 at the horizon.
type spot struct{ x, half int }

// y returns the row on the canvas.
func (w window) y(p spot) int { return w.rows - 1 - p.half/2 }

// place returns where a direction is. Below the horizon, or outside a window
// that does not go all the way round, there is nothing.
func (w window) place(d aim.Direction) (spot, bool) {
	if !(d.ElevationDeg >= 0) {
		return spot{}, false
	}
	halves := w.rows * 2
	half := min(int(d.ElevationDeg/90*float64(halves)), halves-1)
	x := int(math.Round(track.TurnDeg(w.centreDeg, d.AzimuthDeg)/w.columnDeg)) + w.columns/2
	if around := int(math.Round(360 / w.columnDeg)); x >= w.columns && x-around >= 0 {
		x -= around
	}
	return spot{x, half}, x >= 0 && x < w.columns
}

// draw draws the window with its axis, the ground and the azimuths below.
func (w window) draw(s sky) *canvas {
	c := newCanvas(axis+w.columns, w.rows+2, w.glyphs)
	w.drawAxis(c)
	field := newCanvas(w.columns, w.rows, w.glyphs)
	if s.skyline != nil {
		w.drawSkyline(field, s.skyline)
	}
	w.drawLights(field, s)
	w.drawPath(field, s)
	if len(s.holds) > 0 && s.beamDeg > 0 {
		w.drawBeam(field, s.holds[0].Circle(s.beamDeg, 540))
	}
	for i := min(len(s.holds), 9) - 1; i > 0; i-- {
		if p, ok := w.place(s.holds[i]); ok {
			field.set(p.x, w.y(p), plain, rune('1'+i))
		}
	}
	if len(s.holds) > 0 {
		w.drawNext(field, s.holds[0], s.satellite)
	}
	if s.satellite != nil {
		w.drawSatellite(field, *s.satellite)
	}
	for _, d := range s.points {
		if p, ok := w.place(aim.Direction{AzimuthDeg: d.AzimuthDeg, ElevationDeg: max(d.ElevationDeg, 0)}); ok {
			field.set(p.x, w.y(p), strong, w.glyphs.point)
		}
	}
	if s.cursor != nil {
		w.drawCursor(field, *s.cursor)
	}
	w.drawHand(field, s)
	c.paste(axis, 0, field)
	w.drawGround(c, s.landmarks)
	return c
}

// drawAxis writes the elevation of each row's lower edge.
func (w window) drawAxis(c *canvas) {
	for row := 1; row < w.rows; row++ {
		if deg := 90 * float64(row) / float64(w.rows); deg == math.Trunc(deg) && int(deg)%10 == 0 || w.rows < 9 {
			c.right(axis-1, w.rows-1-row, horizon, fmt.Sprintf("%.0f", deg))
		}
	}
}

// drawSkyline fills what the skyline hides, to half a row.
func (w window) drawSkyline(c *canvas, skyline func(azimuthDeg float64) float64) {
	rowDeg := 90 / float64(w.rows)
	for x := range w.columns {
		turn := float64(x-w.columns/2) * w.columnDeg
		if turn < -180 || turn > 180 {
			continue
		}
		top := skyline(track.Wrap360(w.centreDeg + turn))
		c.column(x, w.rows-1, w.rows, top/rowDeg, land, w.glyphs.land, w.glyphs.low)
	}
}

// drawPath draws the path where it is in sight.
func (w window) drawPath(c *canvas, s sky) {
	for _, d := range s.path {
		p, ok := w.place(d)
		if !ok || s.skyline != nil && d.ElevationDeg < s.skyline(d.AzimuthDeg) {
			continue
		}
		w.drawHalf(c, p, trail, w.glyphs.dotLower, w.glyphs.dotUpper, w.glyphs.dots)
	}
}

// drawHalf draws one half of a cell, or the whole where the other half is there.
func (w window) drawHalf(c *canvas, p spot, i ink, lower, upper, whole rune) {
	r := lower
	if p.half%2 == 1 {
		r = upper
	}
	if here := c.at(p.x, w.y(p)); here.ink == i && here.r != r {
		r = whole
	}
	c.set(p.x, w.y(p), i, r)
}

// drawBeam draws the edge of the beam to half a row.
func (w window) drawBeam(c *canvas, circle []aim.Direction) {
	for _, d := range circle {
		if p, ok := w.place(d); ok {
			w.drawHalf(c, p, beam, w.glyphs.lower, w.glyphs.upper, w.glyphs.whole)
		}
	}
}

// drawNext draws the hold to be in as a block, and where it is outside, a mark
// at the edge that says which way round is shorter and how far. Near the zenith
// a row of words says what left and right no longer can.
func (w window) drawNext(c *canvas, d aim.Direction, satellite *aim.Direction) {
	if d.Overhead() {
		row := 0
		if satellite != nil {
			if p, ok := w.place(*satellite); ok && w.y(p) == 0 {
				row = 1 // leave it to be seen
			}
		}
		c.centred(0, c.columns, row, goal, " "+d.OverheadWords()+" ")
		return
	}
	if p, ok := w.place(d); ok {
		x := min(max(p.x, 1), c.columns-2)
		c.text(x-1, w.y(p), goal, " 1 ")
		return
	}
	w.edge(c, d, "1", goal)
}

// drawCursor draws the point of the skyline that is being entered, as a cross
// whose middle is its place.
func (w window) drawCursor(c *canvas, d aim.Direction) {
	if p, ok := w.place(aim.Direction{AzimuthDeg: d.AzimuthDeg, ElevationDeg: max(d.ElevationDeg, 0)}); ok {
		c.text(p.x-1, w.y(p), goal, "-+-")
	}
}

// drawSatellite draws where it is now, beside the next hold's number if they
// meet.
func (w window) drawSatellite(c *canvas, d aim.Direction) {
	if d.ElevationDeg < 0 {
		return
	}
	p, ok := w.place(d)
	if !ok {
		w.edge(c, d, string(w.glyphs.satellite), trail)
		return
	}
	if here := c.at(p.x, w.y(p)); here.ink == goal {
		if here.r != ' ' {
			p.x++
		}
		c.set(p.x, w.y(p), goal, w.glyphs.satellite)
		return
	}
	c.set(p.x, w.y(p), trail, w.glyphs.satellite)
}

// edge marks something outside the window: "◀ 1 140°" is 140° to the left of
// the middle.
func (w window) edge(c *canvas, d aim.Direction, what string, i ink) {
	turn := track.TurnDeg(w.centreDeg, d.AzimuthDeg)
	p, _ := w.place(d)
	if d.ElevationDeg < 0 {
		p.half = 0
	}
	if turn < 0 {
		c.text(0, w.y(p), i, fmt.Sprintf("%c%s %.0f°", w.glyphs.left, what, -turn))
	} else {
		c.right(c.columns, w.y(p), i, fmt.Sprintf("%s %.0f°%c", what, turn, w.glyphs.right))
	}
}

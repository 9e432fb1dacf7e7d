package tui

import (
	"fmt"
	"math"

	"foreaim/track"
	"foreaim/track/aim"
)

var compassPoints = [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// drawGround draws the two rows below the sky: the ground with its fists,
// counted from straight ahead, and the azimuths with the landmarks.
func (w window) drawGround(c *canvas, landmarks []seenLandmark) {
	ground, labels := w.rows, w.rows+1
	for x := range w.columns {
		c.set(axis+x, ground, horizon, w.glyphs.ground)
	}
	middle := axis + w.columns/2
	for k := 1; float64(k)*w.fistDeg <= 180; k++ {
		right := middle + int(math.Round(float64(k)*w.fistDeg/w.columnDeg))
		left := 2*middle - right
		for _, x := range [...]int{left, right} {
			if x < axis || x >= axis+w.columns {
				continue
			}
			mark := w.glyphs.tick
			if w.ahead && k <= 9 {
				mark = rune('0' + k)
			}
			c.set(x, ground, horizon, mark)
		}
	}
	if w.ahead {
		c.set(middle, ground, horizon, w.glyphs.ahead)
	}
	if w.blind {
		c.centred(axis, axis+w.columns, labels, horizon, "straight ahead")
		return
	}
	taken := w.drawLandmarks(c, landmarks)
	for i, name := range compassPoints {
		azimuth := float64(i) * 45
		x := middle + int(math.Round(track.TurnDeg(w.centreDeg, azimuth)/w.columnDeg))
		text := fmt.Sprintf("%s %.0f", name, azimuth)
		if left := x - cells(name)/2; left >= axis && left+cells(text) <= c.columns && !taken(left, left+cells(text)) {
			c.text(left, labels, horizon, text)
		}
	}
}

// landmarkCells is the most of a landmark's name below the ground.
const landmarkCells = 12

// drawLandmarks draws the landmarks along the ground, those first in the list
// where two would meet, and returns what tells whether cells of the row below are
// taken.
func (w window) drawLandmarks(c *canvas, landmarks []seenLandmark) (taken func(left, right int) bool) {
	var spans [][2]int
	taken = func(left, right int) bool {
		for _, s := range spans {
			if left < s[1]+1 && right > s[0]-1 {
				return true
			}
		}
		return false
	}
	for _, l := range landmarks {
		p, ok := w.place(aim.Direction{AzimuthDeg: l.azimuthDeg})
		if !ok {
			continue
		}
		if x := axis + p.x; !w.ahead || c.at(x, w.rows).r != w.glyphs.ahead {
			c.set(x, w.rows, horizon, w.glyphs.landmark)
		}
		name := c.fit(landmarkCells, l.name)
		left := min(max(axis+p.x-cells(name)/2, axis), c.columns-cells(name))
		if right := left + cells(name); !taken(left, right) {
			c.text(left, w.rows+1, horizon, name)
			spans = append(spans, [2]int{left, right})
		}
	}
	return taken
}

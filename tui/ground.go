package tui

import (
	"fmt"
	"math"

	"foreaim/track"
)

var compassPoints = [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// drawGround draws the two rows below the sky: the ground with its fists,
// counted from straight ahead, and the azimuths.
func (w window) drawGround(c *canvas) {
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
	for i, name := range compassPoints {
		azimuth := float64(i) * 45
		x := middle + int(math.Round(track.TurnDeg(w.centreDeg, azimuth)/w.columnDeg))
		text := fmt.Sprintf("%s %.0f", name, azimuth)
		if left := x - cells(name)/2; left >= axis && left+cells(text) <= c.columns {
			c.text(left, labels, horizon, text)
		}
	}
}

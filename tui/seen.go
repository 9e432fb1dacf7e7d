package tui

import "foreaim/track/aim"

// saying is what a reference says of straight ahead.
type saying struct {
	letter     rune
	azimuthDeg float64 // true
}

// drawLights draws sun and moon.
func (w window) drawLights(c *canvas, s sky) {
	for _, l := range [...]struct {
		at *aim.Direction
		r  rune
	}{{s.moon, w.glyphs.moon}, {s.sun, w.glyphs.sun}} {
		if l.at == nil {
			continue
		}
		if p, ok := w.place(*l.at); ok {
			c.set(p.x, w.y(p), trail, l.r)
		}
	}
}

// drawHand draws the boom, what the references say of straight ahead, and the
// cross.
func (w window) drawHand(c *canvas, s sky) {
	for _, r := range s.said {
		if p, ok := w.place(aim.Direction{AzimuthDeg: r.azimuthDeg}); ok {
			y := w.rows - 2
			for y > 0 && c.at(p.x, y).r >= 'a' && c.at(p.x, y).r <= 'j' {
				y--
			}
			c.set(p.x, y, plain, r.letter)
		}
	}
	if s.hand != nil {
		w.drawCursor(c, *s.hand)
	}
	if s.boom == nil {
		return
	}
	if p, ok := w.place(aim.Direction{AzimuthDeg: s.boom.AzimuthDeg, ElevationDeg: max(s.boom.ElevationDeg, 0)}); ok {
		if here := c.at(p.x, w.y(p)); here.ink == goal {
			c.set(p.x, w.y(p), goal, w.glyphs.boom)
			return
		}
		c.set(p.x, w.y(p), strong, w.glyphs.boom)
	}
}

package page

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strings"
)

// drawing is an SVG being made.
type drawing struct {
	strings.Builder
	width, height float64
}

// newDrawing begins one; a screen reader says its title and description.
func newDrawing(id string, width, height float64, title, description string) *drawing {
	d := &drawing{width: width, height: height}
	d.put(`<svg viewBox="0 0 %g %g" role="img" aria-labelledby="%s-t %s-d" xmlns="http://www.w3.org/2000/svg"><title id="%s-t">%s</title><desc id="%s-d">%s</desc>`,
		width, height, id, id, id, html.EscapeString(title), id, html.EscapeString(description))
	return d
}

func (d *drawing) done() template.HTML { return template.HTML(d.String() + "</svg>") }

func (d *drawing) put(format string, args ...any) { fmt.Fprintf(d, format, args...) }

func (d *drawing) line(class string, x1, y1, x2, y2 float64) {
	d.put(`<line class="%s" x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f"/>`, class, x1, y1, x2, y2)
}

// words puts text at a point; anchor is start, middle or end.
func (d *drawing) words(class, anchor string, x, y float64, text string) {
	d.put(`<text class="%s" text-anchor="%s" x="%.1f" y="%.1f">%s</text>`, class, anchor, x, y, html.EscapeString(text))
}

type spot struct{ x, y float64 }

// path draws a line through points, broken where a coordinate isn't a number.
func (d *drawing) path(class string, points []spot) {
	var b strings.Builder
	pen := "M"
	for _, p := range points {
		if math.IsNaN(p.x) || math.IsNaN(p.y) {
			pen = "M"
			continue
		}
		fmt.Fprintf(&b, "%s%.1f %.1f", pen, p.x, p.y)
		pen = "L"
	}
	if b.Len() > 0 {
		d.put(`<path class="%s" d="%s"/>`, class, b.String())
	}
}

// mark draws what became of a burst, by shape and by colour: a disc for heard, a
// ring for silent, a dash for not listened to, a diamond for unexpected.
func (d *drawing) mark(kind string, x, y float64) {
	const r = 4.5
	switch kind {
	case "heard":
		d.put(`<circle class="heard" cx="%.1f" cy="%.1f" r="%g"/>`, x, y, r)
	case "silent":
		d.put(`<circle class="silent" cx="%.1f" cy="%.1f" r="%g"/>`, x, y, r-0.5)
	case "stray":
		d.put(`<path class="stray" d="M%.1f %.1fl%g %gl%g %gl%g %gz"/>`, x, y-r-1, r+1, r+1, -r-1, r+1, -r-1, -r-1)
	default:
		d.line("away", x-r, y, x+r, y)
	}
}

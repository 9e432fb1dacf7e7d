package page

import (
	"fmt"
	"html/template"
	"math"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing/review"
)

// The window: 2 units a degree of azimuth, 2.6 of elevation.
const (
	windowLeft, windowTop     = 34.0, 14.0
	windowWide, windowHigh    = 720.0, 234.0
	degreesRound, degreesHigh = 360.0, 90.0
)

// mostBeams is how many holds have the beam drawn around them.
const mostBeams = 8

// sky places directions in the window, centred on an azimuth.
type sky struct{ middleDeg float64 }

func (s sky) at(azimuthDeg, elevationDeg float64) spot {
	turn := track.TurnDeg(s.middleDeg, azimuthDeg)
	return spot{windowLeft + (turn+degreesRound/2)*windowWide/degreesRound,
		windowTop + (degreesHigh-math.Max(0, math.Min(degreesHigh, elevationDeg)))*windowHigh/degreesHigh}
}

// trace places a line, broken where it leaves at one side and comes in at the other.
func (s sky) trace(looks []track.Look) []spot {
	var all []spot
	for _, l := range looks {
		if l.RangeKm <= 0 || l.ElevationDeg < 0 {
			all = append(all, spot{math.NaN(), 0})
			continue
		}
		p := s.at(l.AzimuthDeg, l.ElevationDeg)
		if n := len(all); n > 0 && math.Abs(all[n-1].x-p.x) > windowWide/2 {
			all = append(all, spot{math.NaN(), 0})
		}
		all = append(all, p)
	}
	return all
}

// window draws the sky as seen standing there: the facing in the middle, the
// horizon below, straight up on top.
func window(id string, p review.Pass) template.HTML {
	s := sky{p.Peak.AzimuthDeg}
	middle := "the peak"
	if p.FacingHow != "" {
		s.middleDeg, middle = p.FacingDeg, "the facing"
	}
	d := newDrawing(id, windowLeft+windowWide+12, windowTop+windowHigh+36,
		"The sky of the pass, unrolled",
		fmt.Sprintf("Azimuth along the ground with %s, %.0f°, in the middle; elevation from 0° below to 90° on top. The satellite rises at %.0f°, is highest at azimuth %.0f° with %.0f°, and sets at %.0f°. %d bursts heard, %d silent.",
			middle, s.middleDeg, p.Rise.AzimuthDeg, p.Peak.AzimuthDeg, p.Peak.ElevationDeg, p.Set.AzimuthDeg, p.Count(review.Heard), p.Count(review.Silent)))
	s.frame(d)
	apart := (len(p.Bursts) + mostBeams - 1) / mostBeams
	for i, b := range p.Bursts {
		if b.Source != review.Nowhere && i%apart == 0 {
			s.beam(d, b.Held, p.BeamwidthDeg/2)
		}
	}
	var predicted, found []track.Look
	for _, x := range p.Path {
		predicted, found = append(predicted, x.Look), append(found, x.Found)
	}
	d.path("predicted", s.trace(predicted))
	if p.Estimates.TimeLearned {
		d.path("found", s.trace(found))
	}
	for _, b := range p.Bursts {
		s.burst(d, b)
	}
	for _, b := range p.Strays {
		if b.Found.RangeKm > 0 && b.Found.ElevationDeg > 0 {
			at := s.at(b.Found.AzimuthDeg, b.Found.ElevationDeg)
			d.mark("stray", at.x, at.y)
		}
	}
	return d.done()
}

func (s sky) frame(d *drawing) {
	for e := 0.0; e <= degreesHigh; e += 30 {
		y := s.at(s.middleDeg, e).y
		d.line("grid", windowLeft, y, windowLeft+windowWide, y)
		d.words("small", "end", windowLeft-5, y+4, fmt.Sprintf("%.0f°", e))
	}
	names := []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
	for i, n := range names {
		x := s.at(float64(i)*45, 0).x
		d.line("grid", x, windowTop, x, windowTop+windowHigh)
		d.words("small", "middle", x, windowTop+windowHigh+15, n)
	}
	d.line("ground", windowLeft, windowTop+windowHigh, windowLeft+windowWide, windowTop+windowHigh)
	d.words("small", "middle", windowLeft+windowWide/2, windowTop+windowHigh+30, "line: path by the elements, in red as found · number: hold · disc: heard · diamond: heard where none was expected · ring: silent")
}

// beam draws the width of the beam around a hold.
func (s sky) beam(d *drawing, held aim.Direction, radiusDeg float64) {
	var looks []track.Look
	circle := held.Circle(radiusDeg, 48)
	for _, c := range append(circle, circle[0]) {
		looks = append(looks, track.Look{AzimuthDeg: c.AzimuthDeg, ElevationDeg: c.ElevationDeg, RangeKm: 1})
	}
	d.path("beam", s.trace(looks))
}

// burst draws one with the hold for it, where they aren't the same.
func (s sky) burst(d *drawing, b review.Burst) {
	if b.Source != review.Nowhere {
		at := s.at(b.Held.AzimuthDeg, b.Held.ElevationDeg)
		d.words("hold", "middle", at.x, at.y-7, fmt.Sprint(b.Number))
		d.line("holdmark", at.x-3, at.y, at.x+3, at.y)
		d.line("holdmark", at.x, at.y-3, at.x, at.y+3)
	}
	if b.Found.RangeKm > 0 && b.Found.ElevationDeg >= 0 {
		at := s.at(b.Found.AzimuthDeg, b.Found.ElevationDeg)
		d.mark(kind(b.Outcome), at.x, at.y)
	}
}

func kind(o review.Outcome) string {
	switch o {
	case review.Heard:
		return "heard"
	case review.Silent:
		return "silent"
	}
	return "away"
}

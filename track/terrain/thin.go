package terrain

import (
	"math"

	"foreaim/track"
)

// Thin returns the skyline with as few points as are needed to stay within some
// degrees of elevation of what it was, such as to write down by points what was
// worked out every half degree.
func (s Skyline) Thin(withinDeg float64) Skyline {
	n := len(s.points)
	if n < 3 {
		return s
	}
	keep := make([]bool, n+1) // the first point is there again at the end, a circle on
	keep[0], keep[n/2], keep[n] = true, true, true
	s.thin(keep, 0, n/2, withinDeg)
	s.thin(keep, n/2, n, withinDeg)
	var points []Point
	for i, p := range s.points {
		if keep[i] {
			points = append(points, p)
		}
	}
	return Skyline{points}
}

// thin keeps the point between two that is furthest off the straight line between
// them, where it is too far off, and so on to either side of it (Ramer 1972,
// Douglas and Peucker 1973).
func (s Skyline) thin(keep []bool, from, to int, withinDeg float64) {
	a, b := s.points[from], s.points[to%len(s.points)]
	width := track.Wrap360(b.AzimuthDeg - a.AzimuthDeg)
	worst, at := withinDeg, -1
	for i := from + 1; i < to; i++ {
		part := track.Wrap360(s.points[i].AzimuthDeg-a.AzimuthDeg) / width
		off := math.Abs(s.points[i].ElevationDeg - (a.ElevationDeg + part*(b.ElevationDeg-a.ElevationDeg)))
		if off > worst {
			worst, at = off, i
		}
	}
	if at >= 0 {
		keep[at] = true
		s.thin(keep, from, at, withinDeg)
		s.thin(keep, at, to, withinDeg)
	}
}

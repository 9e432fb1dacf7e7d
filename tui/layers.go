package tui

import (
	"slices"

	"foreaim/track/terrain"
)

// layers are what hides the sky, in layers: the hills may come and change after
// trees and houses have been entered, and these stay then.
type layers struct {
	hills  terrain.Skyline // of the ground; zero: not known
	byHand terrain.Skyline // trees and houses: given, or entered while no hills were known
	// changed are the points that were entered over the hills, in their order: each
	// is a point of the whole.
	changed []terrain.Point
}

// startLayers is what hides the sky to begin with: what the outing that is taken up
// brings, hills and all, else what is given.
func startLayers(c Config) layers {
	if c.Resume == nil || len(c.Resume.Skyline) == 0 {
		return layers{hills: c.Hills.Skyline, byHand: c.Skyline}
	}
	var l layers
	for _, p := range c.Resume.Skyline {
		if more, err := l.byHand.Add(p.AzimuthDeg, p.ElevationDeg); err == nil { // a point that can't be is none
			l.byHand = more
		}
	}
	return l
}

// skyline joins the layers: of hills and of trees and houses the higher counts, and
// a point that was entered over them. It is as exact as a record.
func (l layers) skyline() terrain.Skyline {
	joined := l.hills
	switch {
	case len(l.hills.Points()) == 0:
		joined = l.byHand
	case len(l.byHand.Points()) > 0:
		joined = l.hills.Max(l.byHand)
	}
	var s terrain.Skyline
	for _, p := range append(joined.Points(), l.changed...) {
		if more, err := s.Add(tidy(p.AzimuthDeg), tidy(p.ElevationDeg)); err == nil { // rounding leads out of no range
			s = more
		}
	}
	return s
}

// over returns the layers with other hills.
func (l layers) over(hills terrain.Skyline) layers {
	l.hills = hills
	return l
}

// with returns the layers with one more point.
func (l layers) with(p terrain.Point) (layers, error) {
	if len(l.hills.Points()) == 0 {
		var err error
		l.byHand, err = l.byHand.Add(p.AzimuthDeg, p.ElevationDeg)
		return l, err
	}
	if _, err := l.hills.Add(p.AzimuthDeg, p.ElevationDeg); err != nil { // it can't be
		return l, err
	}
	l.changed = append(slices.DeleteFunc(slices.Clone(l.changed), at(p.AzimuthDeg)), p)
	return l, nil
}

// without returns the layers without the point at an azimuth: one that was entered
// over the hills bares what is below; false when there is none.
func (l layers) without(azimuthDeg float64) (layers, bool) {
	if left := slices.DeleteFunc(slices.Clone(l.changed), at(azimuthDeg)); len(left) < len(l.changed) {
		l.changed = left
		return l, true
	}
	found := false
	for _, layer := range [...]*terrain.Skyline{&l.hills, &l.byHand} {
		points := layer.Points()
		left := slices.DeleteFunc(slices.Clone(points), at(azimuthDeg))
		if fewer, err := terrain.NewSkyline(left...); err == nil && len(left) < len(points) {
			*layer, found = fewer, true
		}
	}
	return l, found
}

// at tells whether a point is at an azimuth, as exactly as a record knows it.
func at(azimuthDeg float64) func(terrain.Point) bool {
	return func(p terrain.Point) bool { return tidy(p.AzimuthDeg) == azimuthDeg }
}

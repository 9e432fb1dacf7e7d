package terrain

import (
	"errors"
	"math"
)

// Tiles of pixels end half a pixel before or beyond the degree, so a place can lie
// between the last sample of a tile and the first of the next.

// overEdge returns the height of a place that is in a square but not among the
// samples of its tile: first along the rows on both sides, then between these.
func (t *Tiles) overEdge(s square, r *raster, latitudeDeg, longitudeDeg float64) (float64, error) {
	_, y := r.xy(latitudeDeg, longitudeDeg)
	here, err := t.alongRow(s, r, latitudeDeg, longitudeDeg)
	north := outside(y, r.rows)
	if err != nil || north == 0 {
		return here, err
	}
	other, beside, err := t.neighbour(s, -north, 0)
	if other == nil {
		return here, err
	}
	there, err := t.alongRow(beside, other, latitudeDeg, longitudeDeg)
	if err != nil {
		return 0, err
	}
	_, otherY := other.xy(latitudeDeg, longitudeDeg)
	return between(here, beyond(y, r.rows)*r.latStep, there, beyond(otherY, other.rows)*other.latStep), nil
}

// alongRow returns the height in the row of a tile that is nearest to a latitude.
func (t *Tiles) alongRow(s square, r *raster, latitudeDeg, longitudeDeg float64) (float64, error) {
	x, y := r.xy(latitudeDeg, longitudeDeg)
	here, err := r.height(x, y)
	east := outside(x, r.cols)
	if err != nil || east == 0 {
		return here, err
	}
	other, _, err := t.neighbour(s, 0, east)
	if other == nil {
		return here, err
	}
	// The row is that of this tile, so that a corner is met from all sides alike.
	rowLatitude := r.northDeg - min(max(y, 0), float64(r.rows-1))*r.latStep
	otherX, otherY := other.xy(rowLatitude, longitudeDeg)
	there, err := other.height(otherX, otherY)
	if err != nil {
		return 0, err
	}
	return between(here, beyond(x, r.cols)*r.lonStep, there, beyond(otherX, other.cols)*other.lonStep), nil
}

// neighbour returns the tile that many squares north and east, nil where there is
// none.
func (t *Tiles) neighbour(s square, north, east int) (*raster, square, error) {
	beside, ok := s.beside(north, east)
	if !ok {
		return nil, s, nil
	}
	r, err := t.tile(beside)
	if errors.As(err, new(*MissingError)) {
		err = nil
	}
	return r, beside, err
}

// outside returns on which side of n samples an index is: -1, 0 or 1.
func outside(x float64, n int) int {
	switch {
	case x < 0:
		return -1
	case x > float64(n-1):
		return 1
	}
	return 0
}

// beyond returns how far an index is outside of n samples.
func beyond(x float64, n int) float64 { return math.Max(0, math.Max(-x, x-float64(n-1))) }

// between returns the height between two, each with how far it is away, one of them
// more than 0.
func between(a, awayA, b, awayB float64) float64 {
	return (a*awayB + b*awayA) / (awayA + awayB)
}

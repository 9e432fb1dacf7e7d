package terrain

import (
	"fmt"

	"foreaim/track/internal/csvfile"
)

// Ground tells how high the ground is.
//
// Heights are above mean sea level, as in all public elevation data. The
// ellipsoid, above which a GPS receiver and a track.Site tell their height, lies
// up to 105 m away from that, but over 60 km the two are parallel to a few
// thousandths of a degree, 0.02° at the worst in mountains. All that is worked
// out here is relative, an antenna's height above its own ground and the ground
// around it, so the difference is never needed and a site's height is not read.
type Ground interface {
	// HeightM returns the height in metres above mean sea level at a geodetic
	// latitude, -90 to 90, and a longitude, wrapped to the circle, both in
	// degrees on WGS-84. It is safe for use by several goroutines. Errors: a
	// *VoidError where the height is not known; others where nothing can be read.
	HeightM(latitudeDeg, longitudeDeg float64) (float64, error)
}

// GroundFunc makes a Ground of a function.
type GroundFunc func(latitudeDeg, longitudeDeg float64) float64

// HeightM calls f.
func (f GroundFunc) HeightM(latitudeDeg, longitudeDeg float64) (float64, error) {
	return f(latitudeDeg, longitudeDeg), nil
}

// VoidError: the height of a place is not known, because its tile has a hole
// there that is too large to be filled from its edges.
type VoidError struct {
	File                      string
	LatitudeDeg, LongitudeDeg float64
}

func (e *VoidError) Error() string {
	return fmt.Sprintf("%s has no height at %.5f, %.5f", csvfile.Clean(e.File, maxFaultText), e.LatitudeDeg, e.LongitudeDeg)
}

// Hint returns the way out.
func (e *VoidError) Hint() string {
	return "use elevation data whose voids are filled; many public agencies offer them"
}

// MissingError: there is no tile for a square of one degree.
type MissingError struct{ Tile string } // such as N58E014

func (e *MissingError) Error() string {
	return fmt.Sprintf("no elevation tile %s (%s.hgt, %s.hgt.zip or a .tif whose name holds %s)", e.Tile, e.Tile, e.Tile, e.Tile)
}

// Hint returns the way out.
func (e *MissingError) Hint() string {
	return "space and mapping agencies give such tiles away, 1 or 3 arc-seconds wide; put it into the folder, or, where it is all sea, say that missing tiles are sea"
}

// TileError is what is wrong with a tile's file.
type TileError struct {
	File, What string
	Advice     string // the way out; may be empty
	Err        error  // of the reader, if that is what stopped the reading
}

// maxFaultText is how much of an error is kept.
const maxFaultText = 500

func (e *TileError) Error() string {
	text := e.File + ": " + e.What
	if e.Err != nil {
		text += ": " + e.Err.Error()
	}
	return csvfile.Clean(text, maxFaultText)
}

// Hint returns the way out; empty where there is none.
func (e *TileError) Hint() string { return e.Advice }

// Unwrap returns the reader's error.
func (e *TileError) Unwrap() error { return e.Err }

package track

import (
	"errors"
	"fmt"

	"github.com/tidwall/geodesic"
)

// samePlaceM is how close two points must be for the line between them to have
// no direction: a millimetre, far below what any survey tells apart.
const samePlaceM = 0.001

// ErrSamePlace: two points are the same, so no direction leads from one to the
// other.
var ErrSamePlace = errors.New("the two points are the same place: no bearing leads from one to the other")

// Bearing returns the shortest line on the WGS-84 ellipsoid from one site to
// another, their heights left out: its bearing where it starts, in degrees
// clockwise from true north, [0, 360), and its length in metres. The error is
// ErrSamePlace under a millimetre, or tells which number is out of range.
//
// At a pole every direction is south or north: the bearing there is counted
// from the meridian of the longitude that is written for the pole. Between
// opposite points of the Earth it is one of many.
//
// Source: C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87, 43–55
// (2013), in a port of its author's library; good to far below a millimetre.
func (s Site) Bearing(to Site) (bearingDeg, distanceM float64, err error) {
	if err := s.Check(); err != nil {
		return 0, 0, fmt.Errorf("bearing from %s: %w", s.called(), err)
	}
	if err := to.Check(); err != nil {
		return 0, 0, fmt.Errorf("bearing to %s: %w", to.called(), err)
	}
	geodesic.WGS84.Inverse(s.LatitudeDeg, s.LongitudeDeg, to.LatitudeDeg, to.LongitudeDeg, &distanceM, &bearingDeg, nil)
	if distanceM < samePlaceM {
		return 0, distanceM, ErrSamePlace
	}
	return Wrap360(bearingDeg), distanceM, nil
}

// called names a site in an error.
func (s Site) called() string {
	if s.Name == "" {
		return "a site without a name"
	}
	return fmt.Sprintf("%q", s.Name)
}

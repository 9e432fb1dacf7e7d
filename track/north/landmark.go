package north

import (
	"fmt"
	"math"

	"foreaim/track"
)

// Landmark is a place that can be seen from the site.
type Landmark struct {
	Name                      string
	LatitudeDeg, LongitudeDeg float64
	HeightM                   float64 // of what is looked at, above the WGS-84 ellipsoid; only with HeightKnown
	HeightKnown               bool
}

// Sighting is where a landmark stands, seen from a site.
type Sighting struct {
	BearingDeg, DistanceM float64 // along the ellipsoid; from true north, [0, 360)
	// ElevationDeg is geometric, above the plane tangent to the ellipsoid,
	// with the Earth's curvature and without refraction, which lifts things on
	// the ground by about a seventh of what curvature hides (common practice,
	// no source). Only with ElevationKnown, that is with a known height.
	ElevationDeg   float64
	ElevationKnown bool
}

// From returns where the landmark stands, seen from a site. The error says what
// is wrong with its place, or is track.ErrSamePlace at the site itself.
func (l Landmark) From(site track.Site) (Sighting, error) {
	place := track.Site{Name: l.Name, LatitudeDeg: l.LatitudeDeg, LongitudeDeg: l.LongitudeDeg}
	if l.HeightKnown {
		place.HeightM = l.HeightM
	}
	bearing, distance, err := site.Bearing(place)
	if err != nil {
		return Sighting{}, fmt.Errorf("landmark %s: %w", shortName(l.Name, "without a name"), err)
	}
	s := Sighting{BearingDeg: bearing, DistanceM: distance, ElevationKnown: l.HeightKnown}
	if l.HeightKnown {
		_, s.ElevationDeg, _ = site.Direction(place)
	}
	return s, nil
}

// BearingSigmaDeg returns the standard uncertainty of the sighting's bearing in
// degrees that comes from where site and landmark are, each known to within a
// standard uncertainty in metres along each axis.
func (s Sighting) BearingSigmaDeg(siteM, landmarkM float64) float64 {
	return min(unknownDeg, math.Atan2(math.Hypot(siteM, landmarkM), s.DistanceM)/rad)
}

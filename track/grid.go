package track

import (
	"fmt"
	"math"
)

// Grid is the UTM map grid at a point.
type Grid struct {
	Zone  int  // 1 to 60
	South bool // of the equator
	// ConvergenceDeg is the bearing of grid north, the map's y axis, from true
	// north, clockwise: true bearing = grid bearing + convergence.
	ConvergenceDeg float64
}

// String names the grid's zone, such as "zone 33 north".
func (g Grid) String() string {
	if g.South {
		return fmt.Sprintf("zone %d south", g.Zone)
	}
	return fmt.Sprintf("zone %d north", g.Zone)
}

// TrueDeg turns a bearing from the map's grid north into one from true north,
// [0, 360).
func (g Grid) TrueDeg(gridDeg float64) float64 { return Wrap360(gridDeg + g.ConvergenceDeg) }

// The grid's limits in degrees of latitude (both belong to it).
const lowestGridDeg, highestGridDeg = -80.0, 84.0

// Grid returns the UTM grid at the site, on WGS-84, with the wider zones of
// south-west Norway and Svalbard. It is refused south of 80° S and north of
// 84° N, where maps have another grid. The convergence is good to better than
// 1e-8°.
func (s Site) Grid() (Grid, error) {
	if err := s.Check(); err != nil {
		return Grid{}, err
	}
	if s.LatitudeDeg < lowestGridDeg || s.LatitudeDeg > highestGridDeg {
		return Grid{}, fmt.Errorf("latitude %v is outside the UTM grid, 80° south to 84° north: use true bearings", s.LatitudeDeg)
	}
	zone := utmZone(s.LatitudeDeg, s.LongitudeDeg)
	fromMeridian := TurnDeg(float64(zone*6-183), s.LongitudeDeg)
	return Grid{Zone: zone, South: s.LatitudeDeg < 0, ConvergenceDeg: convergenceDeg(s.LatitudeDeg, fromMeridian)}, nil
}

// utmZone returns the zone's number. A zone's western and southern edges belong
// to it. Source of the exceptions, bands V and X: NGA.SIG.0012, "The Universal
// Grids and the Transverse Mercator and Polar Stereographic Map Projections",
// 2014 (from memory).
func utmZone(latitudeDeg, longitudeDeg float64) int {
	zone := int(math.Floor((longitudeDeg+180)/6))%60 + 1
	switch {
	case latitudeDeg >= 56 && latitudeDeg < 64 && longitudeDeg >= 3 && longitudeDeg < 6:
		return 32
	case latitudeDeg >= 72 && longitudeDeg >= 0 && longitudeDeg < 42:
		return 31 + 2*int(math.Floor((longitudeDeg+3)/12))
	}
	return zone
}

// convergenceDeg is the bearing of grid north at a latitude and a longitude
// from the grid's central meridian, in degrees. Krüger's series in the third
// flattening n to the fourth order, as in C. F. F. Karney, "Transverse Mercator
// with an accuracy of a few nanometers", J. Geodesy 85, 475–485 (2011),
// equations 7 to 26 and 35.
func convergenceDeg(latitudeDeg, fromMeridianDeg float64) float64 {
	const (
		rad = math.Pi / 180
		n   = wgs84Flattening / (2 - wgs84Flattening)
	)
	alpha := [...]float64{
		n/2 - n*n*2/3 + n*n*n*5/16 + n*n*n*n*41/180,
		n*n*13/48 - n*n*n*3/5 + n*n*n*n*557/1440,
		n*n*n*61/240 - n*n*n*n*103/140,
		n * n * n * n * 49561 / 161280,
	}
	tan := math.Tan(latitudeDeg * rad)
	sinLon, cosLon := math.Sincos(fromMeridianDeg * rad)

	// The tangent of the conformal latitude.
	e := math.Sqrt(wgs84E2)
	secant := math.Hypot(1, tan)
	sigma := math.Sinh(e * math.Atanh(e*tan/secant))
	tan = tan*math.Hypot(1, sigma) - sigma*secant

	xi := math.Atan2(tan, cosLon)
	eta := math.Asinh(sinLon / math.Hypot(tan, cosLon))
	p, q := 1.0, 0.0
	for i, a := range alpha {
		k := float64(2 * (i + 1))
		sin, cos := math.Sincos(k * xi)
		p += k * a * cos * math.Cosh(k*eta)
		q += k * a * sin * math.Sinh(k*eta)
	}
	return (math.Atan2(tan*sinLon, math.Hypot(1, tan)*cosLon) + math.Atan2(q, p)) / rad
}

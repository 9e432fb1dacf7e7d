package track

import (
	"math"
	"time"
)

// Ground is the point below an object.
type Ground struct {
	LatitudeDeg, LongitudeDeg float64 // geodetic, WGS-84
	AltitudeKm                float64 // above the ellipsoid
	Sunlit                    bool    // outside the Earth's shadow
}

// Ground returns the point below the object at t and whether it is in sunlight.
// Shadow: the straight line to the centre of the sun's disc is cut by the
// WGS-84 ellipsoid. That puts the edge in the middle of the penumbra; without
// the atmosphere's refraction it is good to a few seconds in a low orbit.
func (o *Orbit) Ground(t time.Time) (Ground, error) {
	s, err := o.State(t)
	if err != nil {
		return Ground{}, err
	}
	position, _ := earthFixed(s, t)
	g := Ground{Sunlit: sunlit(s.PositionKm, sunKm(t))}
	g.LatitudeDeg, g.LongitudeDeg, g.AltitudeKm = Geodetic(position)
	return g, nil
}

// sunlit says whether the line from a position to the sun clears the
// ellipsoid; both in km, in axes whose z is the Earth's axis.
func sunlit(position, sun Vector) bool {
	// Stretched along the axis, the ellipsoid is a sphere and lines stay lines.
	const stretch = 1 / (1 - wgs84Flattening)
	position[2] *= stretch
	sun[2] *= stretch
	ray := sub(sun, position)
	along := -dot(position, ray) / dot(ray, ray) // nearest to the centre, as a share of the ray
	if along <= 0 {
		return true // the sun is on the outer side
	}
	nearest := Vector{position[0] + along*ray[0], position[1] + along*ray[1], position[2] + along*ray[2]}
	return dot(nearest, nearest) > wgs84RadiusKm*wgs84RadiusKm
}

// sunKm returns the sun's position in km, in the axes of the mean equator of
// date. It is the low-precision formula of the Astronomical Almanac, page C5
// (from memory): 0.01° from 1950 to 2050. TEME's x differs from the mean
// equinox by nutation, under 0.005°. UT is taken as TT (0.001°).
func sunKm(t time.Time) Vector {
	const rad, unitKm = math.Pi / 180, 149597870.7
	n := daysFrom2000(t)
	g := Wrap360(357.528+0.9856003*n) * rad // mean anomaly
	longitude := Wrap360(280.460+0.9856474*n+1.915*math.Sin(g)+0.020*math.Sin(2*g)) * rad
	obliquity := (23.439 - 4e-7*n) * rad
	distance := unitKm * (1.00014 - 0.01671*math.Cos(g) - 0.00014*math.Cos(2*g))
	sin, cos := math.Sincos(longitude)
	return Vector{distance * cos, distance * math.Cos(obliquity) * sin, distance * math.Sin(obliquity) * sin}
}

package track

import "time"

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
	g := Ground{Sunlit: sunlit(s.PositionKm, Sun(t))}
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

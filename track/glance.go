package track

import (
	"context"
	"math"
)

// search looks for passes. Its times are seconds after the elements' epoch;
// it looks at whole ones only, where the propagator needs no interpolation.
type search struct {
	ctx   context.Context
	orbit *Orbit
	place place
	count int // glances so far

	from, to float64 // the window
	reach    float64 // how far outside it to follow a pass

	minimum, sinMin float64 // least elevation, rad, and its sine
	upKm            float64 // the site's distance from the centre along its vertical
	asideKm         float64 // and across it: at most 22 km
	radiusKm        float64
	siteRate        float64 // of the turning of the site's vertical, rad/s
}

func newSearch(ctx context.Context, o *Orbit, site Site, minElevationDeg float64) *search {
	s := &search{ctx: ctx, orbit: o, place: newPlace(site), minimum: minElevationDeg * math.Pi / 180}
	s.sinMin = math.Sin(s.minimum)
	s.upKm = dot(s.place.position, s.place.up)
	s.asideKm = norm(sub(s.place.position, scale(s.place.up, s.upKm)))
	s.radiusKm = norm(s.place.position)
	s.siteRate = earthRate * math.Hypot(s.place.up[0], s.place.up[1])
	return s
}

// glance is what the search knows about one second.
type glance struct {
	k     int64 // seconds after the epoch
	state State
	up    Vector // the site's vertical, in TEME

	// margin is d·up − |d| sin(minimum) in km, d from the site to the object:
	// 0 or more when it is above the minimum elevation. Rate in km/s.
	margin, marginRate float64
	// height is the sine of the elevation, which stays smooth through the
	// zenith; climb is its rate per second times |d|³, which is nearer to a
	// straight line over a pass.
	height, climb float64
}

func (s *search) glance(k int64) (glance, error) {
	if s.count++; s.count%256 == 0 {
		if err := s.ctx.Err(); err != nil {
			return glance{}, err
		}
	}
	state, err := s.orbit.at(k)
	if err != nil {
		return glance{}, err
	}
	sin, cos := math.Sincos(siderealAngle(s.orbit.timeOf(k)))
	g := glance{k: k, state: state, up: turnZ(s.place.up, -sin, cos)}
	d := sub(state.PositionKm, turnZ(s.place.position, -sin, cos))
	v := state.VelocityKmS // against the turning Earth
	v[0] += earthRate * state.PositionKm[1]
	v[1] -= earthRate * state.PositionKm[0]
	distance := norm(d)
	recede := dot(d, v) / distance
	above, aboveRate := dot(d, g.up), dot(v, g.up)
	g.margin, g.marginRate = above-distance*s.sinMin, aboveRate-recede*s.sinMin
	g.height = above / distance
	g.climb = (aboveRate - g.height*recede) * distance * distance
	return g, nil
}

// crossing returns when the margin is 0 between two neighbouring seconds on
// different sides of it.
func crossing(a, b glance) float64 {
	return float64(a.k) + hermite{a.margin, b.margin, a.marginRate, b.marginRate}.root()
}

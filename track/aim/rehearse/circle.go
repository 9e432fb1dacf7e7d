package rehearse

import (
	"math"
	"math/rand/v2"
	"time"

	"foreaim/track"
)

const rad = math.Pi / 180

// The invented orbit: a circle over a turning sphere.
const (
	earthRadiusKm = 6371.0
	heightKm      = 525.0
	earthMu       = 398600.4  // km³/s²
	earthTurn     = 7.2921e-5 // rad/s
	latitudeDeg   = 52.0      // of the invented site
	lowestPeak    = 20.0      // degrees
	highestPeak   = 85.0      // degrees
	minElevation  = 5.0       // degrees; below it nothing is heard
	reach         = 30 * 60.0 // seconds either side of the peak that are searched
)

// circle is an invented circular orbit that passes over an invented site. It
// has a closed form, so that nothing of it is shared with a propagator.
type circle struct {
	peak   time.Time // about: the turning Earth shifts it by seconds
	out    track.Vector
	along  track.Vector
	rate   float64 // rad/s
	radius float64 // km
}

// newCircle invents a pass with a peak elevation even between 20° and 85°, in
// any direction.
func newCircle(rng *rand.Rand, peak time.Time) *circle {
	c := &circle{peak: peak, radius: earthRadiusKm + heightKm}
	c.rate = math.Sqrt(earthMu / (c.radius * c.radius * c.radius))
	elevation := (lowestPeak + (highestPeak-lowestPeak)*rng.Float64()) * rad
	aside := math.Acos(earthRadiusKm*math.Cos(elevation)/c.radius) - elevation
	way := 2 * math.Pi * rng.Float64()
	east, north, up := axes(0)
	for i := range 3 {
		side := math.Sin(way)*east[i] + math.Cos(way)*north[i]
		c.out[i] = math.Cos(aside)*up[i] + math.Sin(aside)*side
		c.along[i] = math.Cos(way)*east[i] - math.Sin(way)*north[i]
	}
	return c
}

// axes returns the site's east, north and up, seconds after the peak, in axes
// that do not turn with the Earth.
func axes(s float64) (east, north, up track.Vector) {
	sinB, cosB := math.Sincos(latitudeDeg * rad)
	sinL, cosL := math.Sincos(earthTurn * s)
	return track.Vector{-sinL, cosL, 0},
		track.Vector{-sinB * cosL, -sinB * sinL, cosB},
		track.Vector{cosB * cosL, cosB * sinL, sinB}
}

// LookLate returns the look angles from the invented site, whatever the site
// handed in: the orbit at t − lateS, the Earth at t. It never fails.
func (c *circle) LookLate(_ track.Site, t time.Time, lateS float64) (track.Look, error) {
	s := t.Sub(c.peak).Seconds()
	sin, cos := math.Sincos(c.rate * (s - lateS))
	east, north, up := axes(s)
	var d, v track.Vector
	for i := range 3 {
		d[i] = c.radius*(cos*c.out[i]+sin*c.along[i]) - earthRadiusKm*up[i]
		v[i] = c.radius * c.rate * (cos*c.along[i] - sin*c.out[i])
	}
	// The site's own velocity.
	v[0] += earthTurn * earthRadiusKm * up[1]
	v[1] -= earthTurn * earthRadiusKm * up[0]
	e, n, u := inner(d, east), inner(d, north), inner(d, up)
	distance := math.Sqrt(inner(d, d))
	return track.Look{
		Time:         t,
		AzimuthDeg:   track.Wrap360(math.Atan2(e, n) / rad),
		ElevationDeg: math.Asin(u/distance) / rad,
		RangeKm:      distance,
		RangeRateKmS: inner(d, v) / distance,
	}, nil
}

func inner(a, b track.Vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

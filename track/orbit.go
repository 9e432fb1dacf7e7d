// Package track tells where things are and when: it wraps the SGP4 library and
// gives look angles, ground points, light and shadow, Doppler and passes.
//
// Frames: SGP4 (WGS-72 constants) gives TEME; it is turned to the Earth by the
// 1982 Greenwich mean sidereal time, polar motion ignored and UT1 taken as UTC.
// That costs a low orbit under 0.01° while |UT1−UTC| < 0.15 s and 0.06° at the
// permitted 0.9 s. Sites are on the WGS-84 ellipsoid. Elevation is geometric,
// above the plane tangent to the ellipsoid, without refraction.
package track

import (
	"context"
	"errors"
	"time"

	"foreaim/track/elements"
)

var errTODO = errors.New("not written yet")

// Orbit propagates one element set. It is safe for use by several goroutines.
type Orbit struct{ set elements.Set }

// NewOrbit prepares a set for propagation. It refuses, with an error that says
// why, sets that the propagator can't do.
func NewOrbit(set elements.Set) (*Orbit, error) { return &Orbit{set}, nil }

// Elements returns the set that the orbit was made from.
func (o *Orbit) Elements() elements.Set { return o.set }

// Vector is x, y, z.
type Vector [3]float64

// State is a position in km and a velocity in km/s, in TEME.
type State struct {
	PositionKm  Vector
	VelocityKmS Vector
}

// State returns where the object is at t, in TEME.
func (o *Orbit) State(t time.Time) (State, error) { return State{}, errTODO }

// Look is the direction to an object from a site at a time: the look angles.
type Look struct {
	Time         time.Time
	AzimuthDeg   float64 // from true north clockwise, [0, 360)
	ElevationDeg float64 // above the horizon, without refraction
	RangeKm      float64
	RangeRateKmS float64 // positive: going away
}

// Look returns the look angles from a site at t.
func (o *Orbit) Look(site Site, t time.Time) (Look, error) { return o.LookLate(site, t, 0) }

// LookLate returns the look angles of an object that is lateS seconds late
// along its track (negative: early): the orbit at t − lateS, the Earth at t.
func (o *Orbit) LookLate(site Site, t time.Time, lateS float64) (Look, error) {
	return Look{}, errTODO
}

// Ground is the point below an object.
type Ground struct {
	LatitudeDeg, LongitudeDeg float64 // geodetic, WGS-84
	AltitudeKm                float64 // above the ellipsoid
	Sunlit                    bool    // outside the Earth's shadow
}

// Ground returns the point below the object at t and whether it is in sunlight.
func (o *Orbit) Ground(t time.Time) (Ground, error) { return Ground{}, errTODO }

// ReceiveHz returns the frequency at which a signal sent at transmitHz arrives
// from an object with the given range rate (positive: going away).
func ReceiveHz(transmitHz, rangeRateKmS float64) float64 {
	return transmitHz * (1 - rangeRateKmS/299792.458)
}

// Pass is one object's rise, peak and set over one site above a minimum
// elevation. An object that never sets in a search is one Pass with AlwaysUp,
// its Rise and Set at the ends of the search.
type Pass struct {
	Rise, Peak, Set Look
	AlwaysUp        bool
}

// Duration returns the time from rise to set.
func (p Pass) Duration() time.Duration { return p.Set.Time.Sub(p.Rise.Time) }

// Passes returns all passes that overlap from..to with the object above
// minElevationDeg, in order. A pass under way at either end is given whole,
// with its real rise and set outside the window.
func (o *Orbit) Passes(ctx context.Context, site Site, from, to time.Time, minElevationDeg float64) ([]Pass, error) {
	return nil, errTODO
}

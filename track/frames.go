package track

import (
	"math"
	"time"
)

// earthRate is the turning of the Earth-fixed axes against TEME, rad/s: one
// mean sidereal day (Aoki and others 1982).
const earthRate = 2 * math.Pi * 1.00273790935 / 86400

// siderealAngle returns the Greenwich mean sidereal time of 1982 (Aoki and
// others, Astronomy and Astrophysics 105, 1982; the form used with SGP4 in
// AIAA 2006-6753), in radians, not wrapped to one turn. UT1 is taken as UTC.
func siderealAngle(t time.Time) float64 {
	days := daysFrom2000(t)
	c := days / 36525
	// The formula's turn a day is left out for whole days.
	turns := days - math.Floor(days)
	return 2 * math.Pi * (turns + (67310.54841+c*(8640184.812866+c*(0.093104-c*6.2e-6)))/86400)
}

// daysFrom2000 counts days from 2000-01-01 12:00.
func daysFrom2000(t time.Time) float64 {
	const noon2000 = 946728000 // Unix seconds
	return (float64(t.Unix()-noon2000) + float64(t.Nanosecond())*1e-9) / 86400
}

// earthFixed turns a TEME state to Earth-fixed axes at t: position in km,
// velocity in km/s as seen from the turning Earth.
func earthFixed(s State, t time.Time) (position, velocity Vector) {
	sin, cos := math.Sincos(siderealAngle(t))
	position = turnZ(s.PositionKm, sin, cos)
	velocity = turnZ(s.VelocityKmS, sin, cos)
	velocity[0] += earthRate * position[1]
	velocity[1] -= earthRate * position[0]
	return position, velocity
}

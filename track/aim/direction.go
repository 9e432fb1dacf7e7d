// Package aim says where to point next.
//
// A Plan is the list of holds of one pass: directions to be in, each until its
// burst has passed. Steps tell the way from one direction to another as a hand
// needs it: along the ground first, then up.
package aim

import (
	"math"

	"foreaim/track"
)

// Direction is where the boom points: true azimuth in degrees clockwise from
// north, elevation in degrees above the horizon.
type Direction struct {
	AzimuthDeg   float64
	ElevationDeg float64
}

// OverheadDeg is the elevation above which left and right lose their meaning:
// a turn of 90° moves the boom by less than 15° there.
const OverheadDeg = 80

// Overhead tells whether the direction is so near the zenith that it is better
// described by where the top of the boom leans.
func (d Direction) Overhead() bool { return d.ElevationDeg > OverheadDeg }

// Step is the way from one direction to another.
type Step struct {
	TurnDeg float64 // along the ground, positive to the right, (-180, 180]
	UpDeg   float64 // then up (negative: down)
}

// StepTo returns the step from d to another direction.
func (d Direction) StepTo(to Direction) Step {
	return Step{
		TurnDeg: track.TurnDeg(d.AzimuthDeg, to.AzimuthDeg),
		UpDeg:   to.ElevationDeg - d.ElevationDeg,
	}
}

// Circle returns n directions on the circle of the given radius in degrees
// around d, on the sphere: near the zenith it is wide in azimuth. Points below
// the horizon are included.
func (d Direction) Circle(radiusDeg float64, n int) []Direction {
	const rad = math.Pi / 180
	sinE, cosE := math.Sincos(d.ElevationDeg * rad)
	sinR, cosR := math.Sincos(radiusDeg * rad)
	points := make([]Direction, n)
	for i := range points {
		sinB, cosB := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		sinEl := sinE*cosR + cosE*sinR*cosB
		turn := math.Atan2(sinB*sinR*cosE, cosR-sinE*sinEl)
		points[i] = Direction{
			AzimuthDeg:   track.Wrap360(d.AzimuthDeg + turn/rad),
			ElevationDeg: math.Asin(math.Max(-1, math.Min(1, sinEl))) / rad,
		}
	}
	return points
}

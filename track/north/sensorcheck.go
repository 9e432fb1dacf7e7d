package north

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
)

// SensorCheck compares a sensor with the facing while the boom is laid along
// straight ahead.
type SensorCheck struct {
	OffDeg   float64 // where the sensor says the boom points, right of the facing, (-180, 180]
	SigmaDeg float64 // standard uncertainty of the difference
	Set      bool    // the sensor had its mounting offset
}

// Check compares what the boom's sensor says with the facing. The boom has to
// be laid along straight ahead. The error is that of Boom, or ErrNoReference.
func (s Sensor) Check(r Reading, field Field, facing Facing) (SensorCheck, error) {
	boom, err := s.Boom(r, field)
	if err != nil {
		return SensorCheck{}, err
	}
	if !finite(facing.Deg) || !(facing.SigmaDeg > 0) {
		return SensorCheck{}, ErrNoReference
	}
	return SensorCheck{
		OffDeg:   track.TurnDeg(facing.Deg, boom.AzimuthDeg),
		SigmaDeg: math.Min(math.Hypot(boom.SigmaDeg, facing.SigmaDeg), unknownDeg),
		Set:      s.Set,
	}, nil
}

// Agrees tells whether the difference is within its uncertainty.
func (c SensorCheck) Agrees() bool { return math.Abs(c.OffDeg) <= differTimes*c.SigmaDeg }

// Lines says in short lines whether the sensor can be trusted, and what to do
// when not.
func (c SensorCheck) Lines() []string {
	where := side(c.OffDeg)
	if c.Agrees() {
		return wrapped("sensor agrees: " + where)
	}
	lines := wrapped(fmt.Sprintf("sensor is off: %s, expected within %.0f°", strings.TrimSuffix(where, " of ahead"), differTimes*c.SigmaDeg))
	if !c.Set {
		return append(lines, wrapped("set its mounting offset, or look for iron near the boom")...)
	}
	return append(lines, wrapped(BySensor.Doubt()+" or has it slipped?")...)
}

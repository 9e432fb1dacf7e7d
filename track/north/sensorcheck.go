package north

import (
	"fmt"
	"math"

	"foreaim/track"
)

// SensorCheck compares the boom's sensor with a reference, the boom lying along
// what that was taken from.
type SensorCheck struct {
	Against  Reference
	MoreDeg  float64 // what the sensor says more than the reference, (-180, 180]
	SigmaDeg float64 // standard uncertainty of the difference
	Set      bool    // the sensor had its mounting offset
}

// Check compares what the boom's sensor says with a reference that was taken
// from something rightDeg to the right of straight ahead, the boom lying along
// that. The errors are those of Reading.Reference, ErrNotLevel, and those of a
// reference that can't be used.
func (s Sensor) Check(r Reading, field Field, against Reference, rightDeg float64) (SensorCheck, error) {
	boom, err := s.Boom(r, field)
	if err != nil {
		return SensorCheck{}, err
	}
	if err := r.level(s.PitchOffsetDeg); err != nil {
		return SensorCheck{}, err
	}
	if err := against.check(); err != nil {
		return SensorCheck{}, err
	}
	return SensorCheck{
		Against:  against,
		MoreDeg:  track.TurnDeg(against.FacingDeg+rightDeg, boom.AzimuthDeg),
		SigmaDeg: math.Min(math.Hypot(boom.SigmaDeg, against.SigmaDeg), unknownDeg),
		Set:      s.Set,
	}, nil
}

// Agrees tells whether the difference is within its uncertainty.
func (c SensorCheck) Agrees() bool { return math.Abs(c.MoreDeg) <= differTimes*c.SigmaDeg }

// String says it in one line: "the sensor says 20° more than the sun's shadow:
// iron near it?".
func (c SensorCheck) String() string {
	than := c.Against.Label()
	if c.Against.Kind != ByLandmark && c.Against.Kind != ByTransmitter { // these have names of their own
		than = "the " + than
	}
	words := "as much as " + than
	switch more := math.Round(c.MoreDeg); {
	case more > 0:
		words = fmt.Sprintf("%.0f° more than %s", more, than)
	case more < 0:
		words = fmt.Sprintf("%.0f° less than %s", -more, than)
	}
	words = "the sensor says " + words
	switch {
	case c.Agrees():
		return words
	case c.Set:
		return words + ": iron near it, or has it slipped?"
	}
	return words + ": iron near it, or clamped on askew?"
}

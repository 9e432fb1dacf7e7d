package north

import (
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// Sensor is how an electronic compass sits on the boom. The zero value is one
// that was clamped on and not set yet: it is taken as it reads.
type Sensor struct {
	// OffsetDeg is what is added to a reading to get where the boom points,
	// (-180, 180], and OffsetSigmaDeg its standard uncertainty, that of the facing
	// it was set by.
	OffsetDeg, OffsetSigmaDeg float64
	PitchOffsetDeg            float64 // the same for what it says of up and down
	Set                       bool
}

// Reading is what a sensor says. Angles from true north count before those from
// magnetic north.
type Reading struct {
	TrueDeg, MagneticDeg     float64
	TrueKnown, MagneticKnown bool
	PitchDeg                 float64 // up positive
	PitchKnown               bool
}

// Boom is where the boom points by its sensor.
type Boom struct {
	AzimuthDeg, SigmaDeg float64 // true, [0, 360); standard uncertainty
	ElevationDeg         float64 // only with ElevationKnown
	ElevationKnown       bool
}

// Why a reading tells nothing.
var (
	// ErrNoHeading: the sensor doesn't say where it points.
	ErrNoHeading = errors.New("the sensor gives no heading")
	// ErrNotLevel: the boom isn't held as it has to be to set the sensor.
	ErrNotLevel = errors.New("hold the boom level")
)

// levelDeg is how far from level a boom may be while a sensor is set or checked:
// more is no sensor that was clamped on askew (common practice, no source).
const levelDeg = 30

// Reference returns the reference of a sensor that nobody has set, the boom
// lying along something rightDeg to the right of straight ahead: its reading
// from true north, or from magnetic north in a field from At. The zero Field
// means that declination isn't known, which a reading from true north doesn't
// need. The errors are ErrNoHeading and those of CompassReference.
func (r Reading) Reference(field Field, rightDeg float64, at time.Time) (Reference, error) {
	switch {
	case r.TrueKnown && finite(r.TrueDeg):
		return Refer(BySensor, "", r.TrueDeg, rightDeg, 0, at)
	case !r.MagneticKnown || !finite(r.MagneticDeg):
		return Reference{}, ErrNoHeading
	}
	return CompassReference(BySensor, "", r.MagneticDeg, rightDeg, field, 0, at)
}

// Boom returns where the boom points: the reading plus the mounting offset. The
// field and the errors are those of Reference.
func (s Sensor) Boom(r Reading, field Field) (Boom, error) {
	own, err := r.Reference(field, 0, time.Time{})
	if err != nil {
		return Boom{}, err
	}
	sigmaDeg := own.SigmaDeg
	if s.Set {
		// The offset takes the error of declination with it, but not that of the
		// iron on the boom, which is another in every direction.
		sigmaDeg = BySensor.SigmaDeg()
		if !r.TrueKnown {
			sigmaDeg = compassErrorDeg(field.Zone)
		}
		sigmaDeg = math.Hypot(sigmaDeg, s.OffsetSigmaDeg)
	}
	b := Boom{AzimuthDeg: track.Wrap360(own.FacingDeg + s.OffsetDeg), SigmaDeg: math.Min(sigmaDeg, unknownDeg)}
	if r.PitchKnown && finite(r.PitchDeg) {
		b.ElevationDeg, b.ElevationKnown = math.Max(-90, math.Min(90, r.PitchDeg+s.PitchOffsetDeg)), true
	}
	return b, nil
}

// SetBy returns the sensor set by a reading that was taken with the boom laid
// level along something rightDeg to the right of straight ahead, whose true
// azimuth is known to within a standard uncertainty. The errors are those of
// Reference, ErrNoReference and ErrNotLevel.
func SetBy(r Reading, field Field, facingDeg, sigmaDeg, rightDeg float64) (Sensor, error) {
	own, err := r.Reference(field, rightDeg, time.Time{})
	if err != nil {
		return Sensor{}, err
	}
	if !finite(facingDeg) || !(sigmaDeg > 0) {
		return Sensor{}, ErrNoReference
	}
	if err := r.level(0); err != nil {
		return Sensor{}, err
	}
	s := Sensor{
		OffsetDeg:      track.TurnDeg(own.FacingDeg, facingDeg),
		OffsetSigmaDeg: math.Min(math.Hypot(sigmaDeg, layOutDeg(rightDeg)), unknownDeg),
		Set:            true,
	}
	if r.PitchKnown {
		s.PitchOffsetDeg = 0 - r.PitchDeg
	}
	return s, nil
}

// level tells whether the boom can be lying level: ErrNotLevel when it isn't.
func (r Reading) level(pitchOffsetDeg float64) error {
	if pitch := r.PitchDeg + pitchOffsetDeg; r.PitchKnown && !(math.Abs(pitch) <= levelDeg) {
		return fmt.Errorf("%w: the sensor says %+.0f°", ErrNotLevel, pitch)
	}
	return nil
}

// Turned returns the sensor after the facing it was set by was put right by
// turnDeg, and is known to within sigmaDeg now; one that nobody has set stays.
func (s Sensor) Turned(turnDeg, sigmaDeg float64) Sensor {
	if s.Set {
		s.OffsetDeg, s.OffsetSigmaDeg = track.TurnDeg(0, s.OffsetDeg+turnDeg), sigmaDeg
	}
	return s
}

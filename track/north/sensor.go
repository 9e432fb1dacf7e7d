package north

import (
	"errors"
	"fmt"
	"math"

	"foreaim/track"
)

// Sensor is how an electronic compass sits on the boom. The zero value is one
// that was clamped on and not set yet: it is taken as it reads.
type Sensor struct {
	// OffsetDeg is what is added to a reading to get where the boom points, and
	// OffsetSigmaDeg its standard uncertainty, that of the facing it was set by.
	OffsetDeg, OffsetSigmaDeg float64 // (-180, 180]
	PitchOffsetDeg            float64
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

// levelDeg is how far from level a boom may be while a sensor is set.
const levelDeg = 30

// trueDeg is what the sensor reads from true north, with the standard
// uncertainty of a sensor that nobody has compared, and how much of that is left
// once it has been: a known offset takes the error of declination with it.
func (r Reading) trueDeg(field Field) (deg, sigmaDeg, ownDeg float64, err error) {
	switch {
	case r.TrueKnown && finite(r.TrueDeg):
		return track.Wrap360(r.TrueDeg), BySensor.SigmaDeg(), BySensor.SigmaDeg(), nil
	case !r.MagneticKnown || !finite(r.MagneticDeg):
		return 0, 0, 0, ErrNoHeading
	case field.Zone == Blackout:
		return 0, 0, 0, ErrBlackout
	case field.HorizontalNT == 0:
		return 0, 0, 0, fmt.Errorf("%w from true north, and no declination is known here", ErrNoHeading)
	}
	ownDeg = compassErrorDeg(field.Zone)
	return TrueDeg(r.MagneticDeg, field.DeclinationDeg), math.Hypot(ownDeg, field.DeclinationUncertaintyDeg), ownDeg, nil
}

// Boom returns where the boom points: the reading from true north, or from
// magnetic north plus declination, plus the mounting offset. field is from At;
// the zero Field means that declination isn't known, which a reading from true
// north doesn't need. The errors are ErrNoHeading and, of a magnetic reading in
// the blackout zone, ErrBlackout.
func (s Sensor) Boom(r Reading, field Field) (Boom, error) {
	deg, sigmaDeg, ownDeg, err := r.trueDeg(field)
	if err != nil {
		return Boom{}, err
	}
	if s.Set {
		sigmaDeg = math.Hypot(ownDeg, s.OffsetSigmaDeg)
	}
	b := Boom{AzimuthDeg: track.Wrap360(deg + s.OffsetDeg), SigmaDeg: math.Min(sigmaDeg, unknownDeg)}
	if r.PitchKnown && finite(r.PitchDeg) {
		b.ElevationDeg, b.ElevationKnown = math.Max(-90, math.Min(90, r.PitchDeg+s.PitchOffsetDeg)), true
	}
	return b, nil
}

// SetBy returns the sensor set by a reading that was taken with the boom laid
// level along straight ahead, whose true azimuth is known as a facing. The
// errors are those of Boom, and ErrNotLevel.
func SetBy(r Reading, field Field, facing Facing) (Sensor, error) {
	deg, _, _, err := r.trueDeg(field)
	switch {
	case err != nil:
		return Sensor{}, err
	case !finite(facing.Deg) || !(facing.SigmaDeg > 0):
		return Sensor{}, ErrNoReference
	case r.PitchKnown && !(math.Abs(r.PitchDeg) <= levelDeg):
		return Sensor{}, fmt.Errorf("%w and straight ahead: the sensor says %+.0f°", ErrNotLevel, r.PitchDeg)
	}
	s := Sensor{OffsetDeg: track.TurnDeg(deg, facing.Deg), OffsetSigmaDeg: math.Min(facing.SigmaDeg, unknownDeg), Set: true}
	if r.PitchKnown {
		s.PitchOffsetDeg = 0 - r.PitchDeg
	}
	return s, nil
}

// Correction is how the boom has to move to point along a direction.
type Correction struct {
	RightDeg float64 // along the ground, (-180, 180], left negative
	UpDeg    float64 // only with UpKnown
	UpKnown  bool
	// OffDeg is the angle on the sky between the two, 0 to 180. Without a pitch
	// it is that of a boom held at the right height.
	OffDeg float64
}

// To returns the live pointing error: how to move the boom to a true azimuth
// and an elevation in degrees.
func (b Boom) To(azimuthDeg, elevationDeg float64) Correction {
	c := Correction{RightDeg: track.TurnDeg(b.AzimuthDeg, azimuthDeg), UpKnown: b.ElevationKnown}
	held := elevationDeg
	if b.ElevationKnown {
		held, c.UpDeg = b.ElevationDeg, elevationDeg-b.ElevationDeg
	}
	// The haversine formula keeps small angles exact.
	half := func(deg float64) float64 { return square(math.Sin(deg * rad / 2)) }
	h := half(elevationDeg-held) + math.Cos(held*rad)*math.Cos(elevationDeg*rad)*half(c.RightDeg)
	c.OffDeg = 2 * math.Asin(math.Sqrt(math.Min(1, h))) / rad
	return c
}

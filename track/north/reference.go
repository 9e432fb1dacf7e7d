package north

import (
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// Kind is a way to know where straight ahead is.
type Kind int

// The kinds. The zero value is none.
const (
	ByCompass Kind = iota + 1
	BySensor       // an electronic compass
	BySun
	ByMoon
	ByPoleStar
	ByLandmark
	ByWalk
	ByTransmitter
	ByWord // somebody said so, or a guess from the map
)

// kinds holds for each kind its name, its default uncertainty in degrees, the
// part of that which two references of the kind share, and where to look when it
// disagrees with another. The numbers are common practice, no source, with the
// antenna laid along the direction by hand; sun, moon and star come with their
// own from Sight.
var kinds = map[Kind]struct {
	name          string
	sigma, shared float64
	doubt         string
}{
	ByCompass:     {"compass", CompassErrorLowDeg, 4, "iron nearby? a car, fence, the preamplifier's magnet"},
	BySensor:      {"sensor", CompassErrorLowDeg, 4, "iron nearby? the boom, cable, preamplifier's magnet"},
	BySun:         {"sun", 2, 0, "clock right? the shadow points away from the sun"},
	ByMoon:        {"moon", 2, 0, "is the clock right?"},
	ByPoleStar:    {"pole star", 2, 0, "is it the right star?"},
	ByLandmark:    {"landmark", 1.5, 0, "is it the right one, and are you where you think?"},
	ByWalk:        {"walk", 2, 0, "was it a straight line?"},
	ByTransmitter: {"transmitter", 5, 0, "is it the right one, or a reflection?"},
	ByWord:        {"word", 10, 0, "who said so?"},
}

// String returns the kind in plain words.
func (k Kind) String() string {
	if of, ok := kinds[k]; ok {
		return of.name
	}
	return fmt.Sprintf("Kind(%d)", int(k))
}

// SigmaDeg returns the standard uncertainty in degrees that the kind usually
// has, laid out by hand. 0 for a kind that there isn't.
func (k Kind) SigmaDeg() float64 { return kinds[k].sigma }

// Doubt returns where to look when a reference of this kind disagrees with
// another, a short question.
func (k Kind) Doubt() string { return kinds[k].doubt }

// Reference is what one way to find north says about the true azimuth of
// straight ahead, the fixed thing that the operator comes back to.
type Reference struct {
	Kind      Kind
	Name      string  // of what was used, from outside; may be empty
	FacingDeg float64 // true azimuth of straight ahead
	SigmaDeg  float64 // standard uncertainty, all of it
	// SharedDeg is the part of SigmaDeg that is the same for all references of
	// this kind: iron nearby bends every compass alike. Repeating a reading
	// doesn't lessen it.
	SharedDeg float64
	At        time.Time // when it was taken; zero: not known

	// A reference keeps its worth while the operator stays, since the fixed
	// thing stays too. MovedM is how far the operator has moved since, in
	// metres; AheadM how far away the fixed thing is (0: not known, taken as
	// 200 m).
	MovedM, AheadM float64
}

const unknownAheadM = 200.0

// Why a reference is refused.
var (
	ErrReference = errors.New("this reference can't be used")
	// ErrBlackout: no compass works here.
	ErrBlackout = fmt.Errorf("%w: the compass is useless this near the magnetic pole", ErrReference)
	// ErrNoField: nobody knows what a compass is drawn to here.
	ErrNoField = fmt.Errorf("%w: no magnetic field is known here, so no declination", ErrReference)
)

// The error in laying out an angle from straight ahead by hand: a tenth of it
// (fists at arm's length), or of what is left beyond quarter turns, which
// cost 2°. Common practice, no source.
const layShare, quarterDeg = 0.1, 2.0

func layOutDeg(rightDeg float64) float64 {
	off := math.Abs(track.TurnDeg(0, rightDeg))
	quarters := math.Round(off / 90)
	return math.Hypot(layShare*(off-90*quarters), quarterDeg*math.Min(quarters, 1))
}

// Refer returns the reference that a thing of a known true azimuth gives, which
// is seen rightDeg to the right of straight ahead (0: straight ahead; left is
// negative). sigmaDeg is the standard uncertainty of both together, 0 for what
// the kind usually has; that of laying out a large angle by hand is added.
func Refer(kind Kind, name string, trueDeg, rightDeg, sigmaDeg float64, at time.Time) (Reference, error) {
	if sigmaDeg == 0 {
		sigmaDeg = kind.SigmaDeg()
	}
	if sigmaDeg < 0 {
		return Reference{}, fmt.Errorf("%w: %v: uncertainty %v°, want over 0", ErrReference, kind, sigmaDeg)
	}
	if !finite(trueDeg) || !finite(rightDeg) {
		return Reference{}, fmt.Errorf("%w: %v: azimuth %v°, %v° right of straight ahead", ErrReference, kind, trueDeg, rightDeg)
	}
	r := Reference{
		Kind: kind, Name: shortName(name, ""), At: at,
		FacingDeg: track.Wrap360(trueDeg - rightDeg),
		SigmaDeg:  math.Hypot(sigmaDeg, layOutDeg(rightDeg)),
	}
	if of := kinds[kind]; of.shared > 0 {
		r.SharedDeg = sigmaDeg * of.shared / of.sigma
	}
	return r, r.check()
}

// CompassReference returns the reference of a compass (ByCompass or BySensor)
// that reads magneticDeg on something rightDeg to the right of straight ahead,
// in a field from At. sigmaDeg is the compass's own uncertainty, 0 for the usual
// one (the higher of the usual ones in the caution zone); that of declination is
// added. In the blackout zone the error is ErrBlackout, in the zero Field
// ErrNoField.
func CompassReference(kind Kind, name string, magneticDeg, rightDeg float64, field Field, sigmaDeg float64, at time.Time) (Reference, error) {
	switch {
	case field.Zone == Blackout:
		return Reference{}, ErrBlackout
	case !(field.HorizontalNT > 0):
		return Reference{}, ErrNoField
	case !(sigmaDeg >= 0):
		return Reference{}, fmt.Errorf("%w: %v: uncertainty %v°, want over 0, or 0 for the usual one", ErrReference, kind, sigmaDeg)
	case sigmaDeg == 0:
		sigmaDeg = compassErrorDeg(field.Zone)
	}
	r, err := Refer(kind, name, TrueDeg(magneticDeg, field.DeclinationDeg), rightDeg, math.Hypot(sigmaDeg, field.DeclinationUncertaintyDeg), at)
	if err != nil {
		return Reference{}, err
	}
	share := kinds[kind].shared / CompassErrorLowDeg
	r.SharedDeg = math.Hypot(share*sigmaDeg, field.DeclinationUncertaintyDeg)
	return r, nil
}

// LandmarkReference returns the reference of a landmark that stands rightDeg to
// the right of straight ahead. Site and landmark are known to within standard
// uncertainties in metres. A landmark so near that its bearing is not known to
// 10° is refused.
func LandmarkReference(name string, s Sighting, rightDeg, siteM, landmarkM float64, at time.Time) (Reference, error) {
	placeDeg := s.BearingSigmaDeg(siteM, landmarkM)
	if !(placeDeg <= 10) {
		return Reference{}, fmt.Errorf("%w: %s is only %.0f m away; take one further off",
			ErrReference, shortName(name, "the landmark"), s.DistanceM)
	}
	return Refer(ByLandmark, name, s.BearingDeg, rightDeg, math.Hypot(ByLandmark.SigmaDeg(), placeDeg), at)
}

// WalkReference returns the reference of a walk whose way points rightDeg to
// the right of straight ahead; 180 when the operator looks back along it.
func WalkReference(w Walk, rightDeg float64, at time.Time) (Reference, error) {
	if !(w.SigmaDeg <= 30) {
		return Reference{}, fmt.Errorf("%w: walk %.0f m further first", ErrReference, w.FurtherM)
	}
	return Refer(ByWalk, "", w.BearingDeg, rightDeg, math.Hypot(ByWalk.SigmaDeg(), w.SigmaDeg), at)
}

// TransmitterReference returns the reference of a transmitter at a sighting,
// whose signal was found at m on a scale from straight ahead (right positive).
// Its place is known to within placeM, a standard uncertainty in metres.
func TransmitterReference(name string, s Sighting, m Middle, placeM float64, at time.Time) (Reference, error) {
	if !finite(m.Deg) || !finite(s.BearingDeg) {
		return Reference{}, fmt.Errorf("%w: transmitter at %v°, its signal at %v°", ErrReference, s.BearingDeg, m.Deg)
	}
	r := Reference{
		Kind: ByTransmitter, Name: shortName(name, ""), At: at,
		FacingDeg: track.Wrap360(s.BearingDeg - m.Deg),
		SigmaDeg:  math.Hypot(m.SigmaDeg, s.BearingSigmaDeg(0, placeM)),
	}
	return r, r.check()
}

// check says what is wrong with a reference's numbers.
func (r Reference) check() error {
	switch _, known := kinds[r.Kind]; {
	case !known:
		return fmt.Errorf("%w: %v is no way to find north", ErrReference, r.Kind)
	case !finite(r.FacingDeg):
		return fmt.Errorf("%w: %s: facing %v° is not a direction", ErrReference, r.Label(), r.FacingDeg)
	case !(r.SigmaDeg > 0) || !finite(r.SigmaDeg):
		return fmt.Errorf("%w: %s: uncertainty %v°, want over 0", ErrReference, r.Label(), r.SigmaDeg)
	case !(r.SharedDeg >= 0 && r.SharedDeg <= r.SigmaDeg):
		return fmt.Errorf("%w: %s: shared uncertainty %v°, want 0 to the whole of %v°", ErrReference, r.Label(), r.SharedDeg, r.SigmaDeg)
	case !(r.MovedM >= 0) || !(r.AheadM >= 0) || !finite(r.MovedM) || !finite(r.AheadM):
		return fmt.Errorf("%w: %s: moved %v m, fixed thing %v m away, want 0 or more", ErrReference, r.Label(), r.MovedM, r.AheadM)
	case r.movedDeg() > 30:
		return fmt.Errorf("%w: %s: you have moved %.0f m since; take it again", ErrReference, r.Label(), r.MovedM)
	}
	return nil
}

// movedDeg is the uncertainty that moving has brought, in degrees.
func (r Reference) movedDeg() float64 {
	ahead := r.AheadM
	if ahead == 0 {
		ahead = unknownAheadM
	}
	return math.Atan2(r.MovedM, ahead) / rad
}

// Label names the reference in a few characters: what was used, else the kind.
func (r Reference) Label() string { return shortName(r.Name, r.Kind.String()) }

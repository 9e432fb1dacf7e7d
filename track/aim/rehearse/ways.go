package rehearse

import (
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
)

// Way is a way of aiming.
type Way string

// The ways of aiming.
const (
	Follow Way = "follow" // where the satellite was 12 s before the burst
	Lead   Way = "lead"   // where it is predicted to be at the burst
	Learn  Way = "learn"  // what the belief advises
	Known  Way = "known"  // where it is, both errors known
)

// Ways returns all ways of aiming, worst first.
func Ways() []Way { return []Way{Follow, Lead, Learn, Known} }

// behindS is how far a follower is behind: a glance at the screen, then the
// antenna.
const behindS = 12

// aimer is told nothing of the truth except through known.
type aimer interface {
	// aim returns the direction to hold at the burst, as the operator should
	// believe it.
	aim(b burst) (aim.Direction, error)
	// told is what the operator marks after the burst.
	told(b burst, held aim.Direction, heard bool, strength aim.Strength)
}

func (w *truth) aimer(way Way) (aimer, error) {
	switch way {
	case Follow:
		return ahead{w, behindS}, nil
	case Lead:
		return ahead{w, 0}, nil
	case Known:
		return knowing{w}, nil
	}
	return newLearner(w)
}

// ahead aims at the predicted place of a few seconds before the burst.
type ahead struct {
	w       *truth
	behindS float64
}

func (a ahead) aim(b burst) (aim.Direction, error) {
	look, err := a.w.orbit.LookLate(a.w.settings.Site, b.at.Add(-time.Duration(a.behindS*float64(time.Second))), 0)
	return above(look), err
}

func (ahead) told(burst, aim.Direction, bool, aim.Strength) {}

// above keeps an aim out of the ground.
func above(look track.Look) aim.Direction {
	return aim.Direction{AzimuthDeg: look.AzimuthDeg, ElevationDeg: math.Max(0, look.ElevationDeg)}
}

// knowing aims at the object.
type knowing struct{ w *truth }

func (k knowing) aim(b burst) (aim.Direction, error) {
	d := above(b.look)
	d.AzimuthDeg = track.Wrap360(d.AzimuthDeg - k.w.headingDeg)
	return d, nil
}

func (knowing) told(burst, aim.Direction, bool, aim.Strength) {}

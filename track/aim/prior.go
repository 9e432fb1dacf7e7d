package aim

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// LateLooker gives the look angles of an object that is late along its track:
// the orbit at t − lateS, the Earth at t. *track.Orbit is one.
type LateLooker interface {
	LookLate(site track.Site, t time.Time, lateS float64) (track.Look, error)
}

// Object is one of those that may be the one that sends.
type Object struct {
	Name       string
	Orbit      LateLooker
	Weight     float64 // against the other objects; 0 counts as 1
	TimeErrorS float64 // what is expected before anything was heard, + for late
	TimeSigmaS float64 // its standard deviation, up to 1800
}

// Prior is what is known before a pass. Errors are normal distributions.
type Prior struct {
	Site     track.Site
	Objects  []Object  // at least one
	From, To time.Time // rise and set as predicted (of the group: first and last)
	// MinElevationDeg is what the object must be above to be heard, 0 to 60.
	MinElevationDeg float64
	// Schedule needs a period. Without a phase that is learned too.
	Schedule beacon.Schedule

	HeadingErrorDeg float64 // expected; true azimuth = believed + heading error
	HeadingSigmaDeg float64 // 0 to 180

	// MarginDB is expected at boresight and 1000 km, against hearing.
	MarginDB      float64
	MarginSigmaDB float64 // 0 counts as 4
	BeamwidthDeg  float64 // between the half-power points, 1 to 180
	// HandDeg is the scatter of a hand at each hold, an axis; FadingDB that of
	// the strength from burst to burst.
	HandDeg, FadingDB float64
	// TwistUnknown tells that the beam and the wave may be linearly polarised,
	// at an unknown angle to each other.
	TwistUnknown bool
	// SilentOdds is the probability that nothing can be heard at all (the
	// beacon is off, or drowned); 0 counts as 0.05.
	SilentOdds float64

	// FrequencyHz is what the beacon sends on; 0: measurements say nothing.
	// Sender and receiver together are off by a constant offset.
	FrequencyHz   float64
	OffsetSigmaHz float64 // 0 counts as 3000
}

// Check names the first value that is out of range.
func (p Prior) Check() error {
	for _, v := range []struct {
		name            string
		value, low, top float64
	}{
		{"minimum elevation", p.MinElevationDeg, 0, 60},
		{"heading error", p.HeadingErrorDeg, -180, 180},
		{"heading error's standard deviation", p.HeadingSigmaDeg, 0, 180},
		{"margin", p.MarginDB, -100, 150},
		{"margin's standard deviation", p.MarginSigmaDB, 0, 40},
		{"beamwidth", p.BeamwidthDeg, 1, 180},
		{"hand's scatter", p.HandDeg, 0, 90},
		{"fading", p.FadingDB, 0, 40},
		{"odds of silence", p.SilentOdds, 0, 0.99},
		{"frequency", p.FrequencyHz, 0, 1e11},
		{"frequency offset's standard deviation", p.OffsetSigmaHz, 0, 1e6},
	} {
		if err := within(v.name, v.value, v.low, v.top); err != nil {
			return err
		}
	}
	if err := p.Schedule.Validate(); err != nil {
		return err
	}
	if len(p.Objects) == 0 {
		return fmt.Errorf("no object to aim at: give at least one")
	}
	if d := p.To.Sub(p.From); d <= 0 || d > maxPass {
		return fmt.Errorf("the pass lasts %s, want more than 0 and at most %s", d, maxPass)
	}
	for _, o := range p.Objects {
		if o.Orbit == nil {
			return fmt.Errorf("object %q has no orbit", o.Name)
		}
		if err := within("time error", o.TimeErrorS, -maxLateS, maxLateS); err != nil {
			return err
		}
		if err := within("time error's standard deviation", o.TimeSigmaS, 0, maxLateS); err != nil {
			return err
		}
		if err := within("weight", o.Weight, 0, math.MaxFloat64); err != nil {
			return err
		}
	}
	return nil
}

func within(name string, value, low, top float64) error {
	if !(value >= low && value <= top) { // refuses NaN too
		return fmt.Errorf("%s %v is outside %v to %v", name, value, low, top)
	}
	return nil
}

const (
	maxPass  = 24 * time.Hour
	maxLateS = 1800.0
)

package beacon

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// Looker gives the look angles of one object: *track.Orbit does.
type Looker interface {
	Look(site track.Site, t time.Time) (track.Look, error)
}

// Expected is a burst and where it comes from.
type Expected struct {
	Burst
	UncertaintyS float64    // of its start, see Schedule.UncertaintyS
	Look         track.Look // at its start
	ReceiveHz    float64    // at its start; 0 when the frequency is unknown
}

// InPass returns the bursts that start in a pass, from its rise up to but
// without its set, in order. transmitHz is the beacon's frequency, 0 when it is
// unknown. A burst that is sounding as the object rises started before the pass
// and is not among them.
//
// It fails when the schedule is not valid, with ErrPhaseUnknown when it has no
// phase (see Schedule.LongestWait), with ErrTooManyBursts when a pass without
// end would hold more than MaxBursts, and when the object's direction can't be
// told at one of them.
func InPass(object Looker, site track.Site, pass track.Pass, s Schedule, transmitHz float64) ([]Expected, error) {
	if !(transmitHz >= 0) || math.IsInf(transmitHz, 0) {
		return nil, fmt.Errorf("frequency %g Hz is not a frequency: give 0 if it is unknown", transmitHz)
	}
	bursts, err := s.Bursts(pass.Rise.Time, pass.Set.Time)
	if err != nil {
		return nil, err
	}
	expected := make([]Expected, len(bursts))
	for i, b := range bursts {
		look, err := object.Look(site, b.Time)
		if err != nil {
			return nil, fmt.Errorf("burst %d at %s: %w", b.Number, b.Time.Format(time.RFC3339), err)
		}
		expected[i] = Expected{
			Burst:        b,
			UncertaintyS: s.UncertaintyS(b.Time),
			Look:         look,
			ReceiveHz:    track.ReceiveHz(transmitHz, look.RangeRateKmS),
		}
	}
	return expected, nil
}

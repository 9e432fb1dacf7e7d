package rehearse

import (
	"time"

	"foreaim/track/aim"
	"foreaim/track/beacon"
)

const lightKmS = 299792.458

// knownMarginDB is the standard deviation that is believed of a margin without
// error: nobody knows it better.
const knownMarginDB = 1

// learner asks the belief.
type learner struct {
	w      *truth
	belief *aim.Belief
	advice aim.Advice
}

func newLearner(w *truth) (*learner, error) {
	s := w.settings
	schedule := beacon.Schedule{Period: s.Period}
	if !s.PhaseUnknown {
		schedule.First = w.bursts[0].at
	}
	belief, err := aim.NewBelief(aim.Prior{
		Site:            s.Site,
		Objects:         []aim.Object{{Orbit: w.orbit, TimeSigmaS: s.TimeErrorS}},
		From:            w.rise,
		To:              w.set,
		MinElevationDeg: s.MinElevationDeg,
		Schedule:        schedule,
		HeadingSigmaDeg: s.HeadingErrorDeg,
		MarginDB:        s.MarginDB,
		MarginSigmaDB:   max(knownMarginDB, s.MarginErrorDB),
		BeamwidthDeg:    s.BeamwidthDeg,
		HandDeg:         s.AimErrorDeg,
		FadingDB:        s.FadingDB,
		FrequencyHz:     s.FrequencyHz,
	})
	return &learner{w: w, belief: belief}, err
}

func (l *learner) aim(b burst) (aim.Direction, error) {
	l.advice = l.belief.Advise(l.begins(b))
	return l.advice.Aim, nil
}

// begins returns when the hold for a burst begins.
func (l *learner) begins(b burst) time.Time {
	return b.at.Add(-time.Duration(l.w.ahead * float64(l.w.settings.Period)))
}

func (l *learner) told(b burst, held aim.Direction, heard bool, strength aim.Strength) {
	// Nothing was heard until the hold is over.
	o := aim.Observation{Time: l.begins(b).Add(l.w.settings.Period), Kind: aim.Silent}
	if !l.w.settings.PhaseUnknown {
		o.Time = b.at.Add(2 * time.Second)
	}
	if heard {
		o.Kind = aim.Heard
		o.Time = b.at.Add(time.Duration(b.reactionS * float64(time.Second)))
		if l.w.settings.Strengths {
			o.Strength = strength
		}
		if f := l.w.settings.FrequencyHz; f > 0 {
			o.FrequencyHz = f*(1-b.look.RangeRateKmS/lightKmS) + l.w.offsetHz + b.tuningHz
		}
	}
	l.belief.Observe(o)
}

package rehearse

import (
	"time"

	"foreaim/track/aim"
	"foreaim/track/beacon"
)

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
		BeamwidthDeg:    s.BeamwidthDeg,
		HandDeg:         s.AimErrorDeg,
		FadingDB:        s.FadingDB,
		FrequencyHz:     s.FrequencyHz,
	})
	return &learner{w: w, belief: belief}, err
}

func (l *learner) aim(b burst) (aim.Direction, error) {
	now := b.at.Add(-l.w.settings.Period / 2)
	l.advice = l.belief.Advise(now)
	return l.advice.Aim, nil
}

func (l *learner) told(b burst, held aim.Direction, heard bool, strength aim.Strength) {
	o := aim.Observation{Time: b.at, Kind: aim.Silent}
	if heard {
		o.Kind = aim.Heard
		o.Time = b.at.Add(time.Duration(b.reactionS * float64(time.Second)))
		if l.w.settings.Strengths {
			o.Strength = strength
		}
		if f := l.w.settings.FrequencyHz; f > 0 {
			o.FrequencyHz = f*(1-b.look.RangeRateKmS/299792.458) + l.w.offsetHz + b.tuningHz
		}
	}
	l.belief.Observe(o)
}

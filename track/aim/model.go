package aim

import (
	"math"
	"time"
)

// model is all of a belief that doesn't depend on what was observed.
type model struct {
	prior  Prior
	skies  []*sky // by object
	sinMin float64
	ears   map[ear]*hearing
	spanS  []span // of the time errors, by object
}

// ear is what a table of hearing is made for.
type ear struct {
	sensed, noisy bool
	strength      Strength
}

const (
	// sigmas is how many standard deviations of an error are covered.
	sigmas = 4.0
	// sensorDeg is the scatter of a sensor on the boom, an axis, and of the
	// boom between it and the burst (assumed, no source).
	sensorDeg            = 2.0
	defaultMarginSigmaDB = 4.0
	defaultSilentOdds    = 0.05
	defaultOffsetSigmaHz = 3000.0
)

// raisesDB are what raised noise may take off the margin, each as likely as the
// others: nobody says how much it is (assumed, no source).
var raisesDB = [...]float64{3, 6, 12, 20}

func newModel(p Prior) (*model, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	for _, d := range []struct {
		value *float64
		or    float64
	}{{&p.MarginSigmaDB, defaultMarginSigmaDB}, {&p.SilentOdds, defaultSilentOdds}, {&p.OffsetSigmaHz, defaultOffsetSigmaHz}} {
		if *d.value == 0 {
			*d.value = d.or
		}
	}
	m := &model{prior: p, sinMin: math.Sin(p.MinElevationDeg * rad), ears: map[ear]*hearing{}}
	from, to := m.window()
	for _, o := range p.Objects {
		s := span{o.TimeErrorS - sigmas*o.TimeSigmaS, o.TimeErrorS + sigmas*o.TimeSigmaS}
		sky, err := newSky(o.Orbit, p.Site, from, to, min(s.low, 0), max(s.high, 0))
		if err != nil {
			return nil, err
		}
		m.spanS, m.skies = append(m.spanS, s), append(m.skies, sky)
	}
	return m, nil
}

// window returns when a burst may be heard at the earliest and the latest: the
// pass, and as much longer as the time errors make likely.
func (m *model) window() (from, to time.Time) {
	early, late := 0.0, 0.0
	for _, o := range m.prior.Objects {
		early = min(early, o.TimeErrorS-3*o.TimeSigmaS)
		late = max(late, o.TimeErrorS+3*o.TimeSigmaS)
	}
	// A period more, for the burst that is being held for at the end.
	return m.prior.From.Add(seconds(early)).Add(-m.prior.Schedule.Period),
		m.prior.To.Add(seconds(late)).Add(m.prior.Schedule.Period)
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// hearing returns the table for a way of holding and a strength.
func (m *model) hearing(e ear) *hearing {
	h := m.ears[e]
	if h == nil {
		scatter := m.prior.HandDeg
		if e.sensed {
			scatter = min(scatter, sensorDeg)
		}
		h = newHearing(m.prior.BeamwidthDeg, scatter, func(marginDB float64) float64 {
			if !e.noisy {
				return afterFading(marginDB, m.prior.FadingDB, m.prior.TwistUnknown, e.strength)
			}
			p := 0.0
			for _, raise := range raisesDB {
				p += afterFading(marginDB-raise, m.prior.FadingDB, m.prior.TwistUnknown, e.strength) / float64(len(raisesDB))
			}
			return p
		})
		m.ears[e] = h
	}
	return h
}

func (m *model) weight(object int) float64 {
	if w := m.prior.Objects[object].Weight; w > 0 {
		return w
	}
	return 1
}

// doubt is by how much wider than stated the margin is believed at first to lie
// around the expected: nobody states it well, and what is heard must be
// able to say otherwise, or all that is told of north and time is told too surely
// where the margin is off (with 1, the heading's 68 % intervals hold it in 60 %
// of the cases at a margin one standard deviation more than expected; found with
// the rehearsal).
const doubt = 2.0

// levelWeights returns the prior of the levels.
func (m *model) levelWeights() []float64 {
	w := make([]float64, levelCount)
	sum := 0.0
	for i, l := range levels {
		w[i] = bell(l, doubt)
		sum += w[i]
	}
	for i := range levels {
		w[i] *= (1 - m.prior.SilentOdds) / sum
	}
	w[silentLevel] = m.prior.SilentOdds
	return w
}

// marginDB returns the margin of a level at boresight and 1000 km, with the noise
// as usual.
func (m *model) marginDB(level int) float64 {
	return m.prior.MarginDB + levels[level]*m.prior.MarginSigmaDB
}

package rehearse

import (
	"math"
	"math/rand/v2"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
)

// truth is one pass as it really is, with the luck of each burst drawn before
// anybody aims, so that all ways of aiming meet the same.
type truth struct {
	settings   Settings
	orbit      aim.LateLooker
	rise, set  time.Time // as predicted
	lateS      float64
	headingDeg float64
	offsetHz   float64
	marginDB   float64
	ahead      float64 // of a burst its hold begins, in periods
	bursts     []burst
}

// burst is one transmission, above the least elevation or not.
type burst struct {
	at        time.Time
	look      track.Look
	up        bool
	hand      [2]float64 // degrees, across and up
	fadingDB  float64
	luck      float64 // heard where the probability is above it
	reactionS float64
	tuningHz  float64
}

// invented is when the invented passes peak.
var invented = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// draw makes pass number i of a run; the same for the same seed, whatever
// else is played.
func draw(s Settings, i int) (*truth, error) {
	rng := rand.New(rand.NewPCG(s.Seed, uint64(i)))
	w := &truth{settings: s, orbit: s.Orbit}
	if w.orbit != nil {
		pass := s.Over[i%len(s.Over)]
		w.rise, w.set = pass.Rise.Time, pass.Set.Time
	} else {
		w.orbit = newCircle(rng, invented)
		w.settings.MinElevationDeg = minElevation
		w.rise, w.set = w.above(invented)
	}
	w.lateS = s.TimeErrorS * rng.NormFloat64()
	w.headingDeg = s.HeadingErrorDeg * rng.NormFloat64()
	w.offsetHz = 3000 * rng.NormFloat64()
	w.ahead = 0.2 + 0.6*rng.Float64()
	w.marginDB = s.MarginDB + s.MarginErrorDB*rng.NormFloat64()
	if s.TrueMarginDB != 0 {
		w.marginDB = s.MarginDB + s.TrueMarginDB
	}
	late := time.Duration(w.lateS * float64(time.Second))
	// Somebody who fears large errors is there early and stays on.
	spare := time.Duration(math.Max(3*s.TimeErrorS, math.Abs(w.lateS)) * float64(time.Second))
	at := w.rise.Add(-spare).Add(time.Duration(rng.Float64() * float64(s.Period)))
	for ; at.Before(w.set.Add(spare)) || at.Before(w.set.Add(late+s.Period)); at = at.Add(s.Period) {
		look, err := w.orbit.LookLate(s.Site, at, w.lateS)
		if err != nil {
			return nil, err
		}
		w.bursts = append(w.bursts, burst{
			at: at, look: look, up: look.ElevationDeg >= w.settings.MinElevationDeg,
			hand:     [2]float64{s.AimErrorDeg * rng.NormFloat64(), s.AimErrorDeg * rng.NormFloat64()},
			fadingDB: s.FadingDB * rng.NormFloat64(), luck: rng.Float64(),
			reactionS: 0.6 + 0.3*rng.NormFloat64(), tuningHz: s.FrequencyErrorHz * rng.NormFloat64(),
		})
	}
	return w, nil
}

// above returns when the predicted object is above the least elevation around
// a time at which it is, to a second.
func (w *truth) above(at time.Time) (from, to time.Time) {
	up := func(t time.Time) bool {
		look, err := w.orbit.LookLate(w.settings.Site, t, 0)
		return err == nil && look.ElevationDeg >= w.settings.MinElevationDeg
	}
	from, to = at, at
	for up(from) && at.Sub(from).Seconds() < reach {
		from = from.Add(-time.Second)
	}
	for up(to) && to.Sub(at).Seconds() < reach {
		to = to.Add(time.Second)
	}
	return from, to
}

package tui

import (
	"cmp"
	"math"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// What is taken for hand, ear and signal where nobody has said (assumed, no
// source).
const (
	handDeg, fadingDB = 8, 5
	usualMarginDB     = 6
	// wordDeg is for a facing of which nobody said how sure it is; leastDeg is
	// what holding a direction against the best facing adds.
	wordDeg, leastDeg = 15, 2
	// longestPass is of a pass that is learned from: slower objects are where
	// they are said to be.
	longestPass = 2 * time.Hour
	// keyAfter is what a belief takes for the time from a burst's start to its
	// mark, which is known better here.
	keyAfter = 600 * time.Millisecond
)

// subject is all that a belief depends on besides what was marked.
type subject struct {
	target        int
	site          track.Site
	rise, set     time.Time
	schedule      beacon.Schedule
	since         time.Time // marks from before tell nothing about this facing
	late, heading given
}

// given is an error as it is expected beforehand.
type given struct{ mean, sigma float64 }

// prior is what is known before anything was marked.
func (u subject) prior(k *tracker) aim.Prior {
	t := k.targets[u.target]
	return aim.Prior{
		Site: u.site, From: u.rise, To: u.set, MinElevationDeg: min(max(k.config.MinElevationDeg, 0), 60),
		Objects:         []aim.Object{{Name: t.Name, Orbit: t.orbit, TimeErrorS: u.late.mean, TimeSigmaS: u.late.sigma}},
		Schedule:        u.schedule,
		HeadingErrorDeg: u.heading.mean, HeadingSigmaDeg: u.heading.sigma,
		MarginDB: cmp.Or(min(max(t.MarginDB, -100), 150), usualMarginDB), MarginSigmaDB: min(t.MarginSigmaDB, 40), BeamwidthDeg: min(max(k.config.BeamwidthDeg, 1), 180), HandDeg: handDeg, FadingDB: fadingDB,
		TwistUnknown: t.TwistUnknown, FrequencyHz: t.FrequencyHz,
	}
}

// teaches tells whether there is anything to learn in a pass: burst after burst
// of an object that may be late.
func teaches(t target, p track.Pass) bool {
	return t.Likely != nil && t.Schedule.Period > 0 && !p.AlwaysUp && p.Duration() <= longestPass
}

// sigma is the standard deviation of the facing's error, in degrees.
func (f facing) sigma() float64 {
	if f.known && f.sigmaDeg > 0 {
		return math.Hypot(f.sigmaDeg, leastDeg)
	}
	return wordDeg
}

// faced is the facing from a time on.
type faced struct {
	from time.Time
	deg  float64
}

// observations turns the marks of a subject's pass into observations, held in
// directions as the facing of now has them.
func (l *learning) observations(u subject, k *tracker, marks *outing.Marks) []aim.Observation {
	schedule := u.schedule
	reach := schedule.Period + 4*time.Duration(u.late.sigma*float64(time.Second))
	from, to := u.rise.Add(-reach), u.set.Add(reach)
	var all []aim.Observation
	for _, k := range marks.All() {
		o := aim.Observation{Time: k.At, Kind: aim.Kind(k.Kind)}
		switch k.Kind {
		case outing.NoiseUp, outing.NoiseNormal: // it may have begun long ago
		case outing.NotListening:
			if k.At.Before(from) || k.At.After(to) {
				continue
			}
			if !k.Until.IsZero() && !schedule.Known() { // silence is none before that
				all = append(all, aim.Observation{Time: k.Until, Kind: aim.NotListening})
			}
		default:
			start := k.Burst()
			if start.Before(from) || start.After(to) || start.Before(u.since) {
				continue
			}
			o.Time = start.Add(keyAfter)
			if k.Origin.Expected && schedule.Known() { // when it came as it is known now
				o.Time = schedule.Next(start.Add(-schedule.Period / 2)).Time.Add(keyAfter)
			}
			o.Strength, o.FrequencyHz = aim.Strength(k.Strength), k.FrequencyHz
			held := aim.Direction{AzimuthDeg: k.Held.AzimuthDeg, ElevationDeg: k.Held.ElevationDeg}
			if boom, ok := l.felt[start.UnixMilli()]; ok {
				held, o.Sensed = boom, true
			} else if !k.Held.Known {
				continue
			}
			held.AzimuthDeg = track.Wrap360(held.AzimuthDeg + l.turned(start))
			o.Held = &held
		}
		all = append(all, o)
	}
	if !schedule.Known() {
		all = append(all, l.silences(u, marks)...)
	} else {
		all = append(all, l.missed(u, all, marks)...)
	}
	slices.SortStableFunc(all, func(a, b aim.Observation) int { return a.Time.Compare(b.Time) })
	return all
}

// silences returns what the holds that are over say where burst times are
// unknown: nobody can tell which burst was missed, only that none was heard.
func (l *learning) silences(u subject, marks *outing.Marks) []aim.Observation {
	var all []aim.Observation
	for _, h := range l.passed {
		if h.Until.Before(u.since) || h.Until.Before(u.rise) || h.Until.After(u.set.Add(time.Minute)) {
			continue
		}
		// Between two holds, behind the skyline or before the first, nobody was there.
		all = append(all, aim.Observation{Time: h.Ready, Kind: aim.NotListening})
		held := h.Direction
		held.AzimuthDeg = track.Wrap360(held.AzimuthDeg + l.turned(h.At))
		o := aim.Observation{Time: h.Until, Kind: aim.Silent, Held: &held}
		if marks.Away(h.Ready, h.Until) {
			o = aim.Observation{Time: h.Until, Kind: aim.NotListening}
		}
		all = append(all, o)
	}
	return all
}

// missed returns the bursts that weren't heard in holds that are over, made when
// burst times were not known yet, as they are known now.
func (l *learning) missed(u subject, marked []aim.Observation, marks *outing.Marks) []aim.Observation {
	var all []aim.Observation
	for _, h := range l.passed {
		if h.Until.Before(u.since) {
			continue
		}
		for burst := u.schedule.Next(h.Ready).Time; burst.Before(h.Until); burst = burst.Add(u.schedule.Period) {
			near := func(o aim.Observation) bool { return o.Time.Add(-keyAfter).Sub(burst).Abs() < u.schedule.Period/3 }
			if burst.Before(u.rise) || burst.After(u.set) || slices.ContainsFunc(marked, near) || marks.Away(burst, burst.Add(l.patience)) {
				continue
			}
			held := h.Direction
			held.AzimuthDeg = track.Wrap360(held.AzimuthDeg + l.turned(h.At))
			all = append(all, aim.Observation{Time: burst.Add(keyAfter), Kind: aim.Silent, Held: &held})
		}
	}
	return all
}

// turned is by how much what the operator takes for an azimuth has grown since a
// time, in degrees: the facing was corrected.
func (l *learning) turned(at time.Time) float64 {
	n := len(l.faced)
	if n == 0 {
		return 0
	}
	for i := n - 1; i > 0; i-- {
		if !l.faced[i].from.After(at) {
			return track.TurnDeg(l.faced[i].deg, l.faced[n-1].deg)
		}
	}
	return track.TurnDeg(l.faced[0].deg, l.faced[n-1].deg)
}

// same tells whether two lists of observations begin alike, for as long as the
// shorter is.
func same(a, b []aim.Observation) bool {
	for i := range min(len(a), len(b)) {
		x, y := a[i], b[i]
		if (x.Held == nil) != (y.Held == nil) || x.Held != nil && *x.Held != *y.Held {
			return false
		}
		x.Held, y.Held = nil, nil
		if x != y {
			return false
		}
	}
	return true
}

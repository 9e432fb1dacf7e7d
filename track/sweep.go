package track

import (
	"context"
	"math"
	"time"
)

// The steps of a sweep: a quarter of the way on the sky to the horizon, within
// these degrees and seconds; a slow object's longest is so much longer as its
// period.
const (
	longestSweepDeg  = 0.25
	shortestSweepDeg = 0.02
	shortestSweepS   = 0.1
	longestSweepS    = 1.0
	lowPeriodS       = 5400
	edgeWidth        = time.Millisecond
)

// sweep follows an object along a horizon.
type sweep struct {
	ctx     context.Context
	orbit   *Orbit
	place   place
	horizon Horizon
}

// sighting is a look, and how far the object is above the horizon then.
type sighting struct {
	Look
	marginDeg float64
	up        bool // in sight
}

func (s sweep) look(t time.Time) (sighting, error) {
	look, err := s.orbit.lookFrom(s.place, t, 0)
	if err != nil {
		return sighting{}, err
	}
	margin := look.ElevationDeg - s.horizon.at(look.AzimuthDeg)
	return sighting{look, margin, margin >= 0}, nil
}

// edge returns where the object comes in sight or goes out of it between two
// sightings of which one is up: the last look that is.
func (s sweep) edge(a, b sighting) (Look, error) {
	for b.Time.Sub(a.Time) > edgeWidth {
		m, err := s.look(a.Time.Add(b.Time.Sub(a.Time) / 2))
		if err != nil {
			return Look{}, err
		}
		if m.up == a.up {
			a = m
		} else {
			b = m
		}
	}
	if a.up {
		return a.Look, nil
	}
	return b.Look, nil
}

// pass narrows a pass over the lowest of the horizon to what is in sight; nil
// where nothing is.
func (s sweep) pass(p Pass) (*Pass, error) {
	var seen *Pass
	top := false            // the highest point of all is in sight
	comes := func(l Look) { // in sight
		if seen == nil {
			seen = &Pass{Rise: l, Peak: l}
		} else {
			seen.Hidden = append(seen.Hidden, Interval{seen.Set.Time, l.Time})
		}
	}
	stays := func(l Look) {
		switch {
		case l.Time.Equal(p.Peak.Time): // found finer than by steps
			seen.Peak, top = l, true
		case !top && l.ElevationDeg > seen.Peak.ElevationDeg:
			seen.Peak = l
		}
		seen.Set = l
	}
	a, err := s.look(p.Rise.Time)
	if err != nil {
		return nil, err
	}
	if a.up {
		comes(a.Look)
		stays(a.Look)
	}
	for step := shortestSweepS; a.Time.Before(p.Set.Time); {
		if err := s.ctx.Err(); err != nil {
			return nil, err
		}
		b, err := s.look(s.next(p, a.Time, step))
		if err != nil {
			return nil, err
		}
		if a.up != b.up {
			edge, err := s.edge(a, b)
			if err != nil {
				return nil, err
			}
			if b.up {
				comes(edge)
			}
			stays(edge)
		}
		if b.up {
			stays(b.Look)
		}
		step = s.step(a, b, step)
		a = b
	}
	if seen != nil {
		seen.AlwaysUp = p.AlwaysUp && seen.Hidden == nil &&
			seen.Rise.Time.Equal(p.Rise.Time) && seen.Set.Time.Equal(p.Set.Time)
	}
	return seen, nil
}

// next returns the time of the next look. The peak and the set are never
// stepped over, so that the shortest pass over a level skyline is not lost.
func (s sweep) next(p Pass, t time.Time, stepS float64) time.Time {
	next := t.Add(seconds(stepS))
	for _, stop := range []time.Time{p.Peak.Time, p.Set.Time} {
		if stop.After(t) && stop.Before(next) {
			next = stop
		}
	}
	return next
}

// step returns the seconds to the look after b, from how fast it moved.
func (s sweep) step(a, b sighting, stepS float64) float64 {
	moved := SeparationDeg(a.AzimuthDeg, a.ElevationDeg, b.AzimuthDeg, b.ElevationDeg)
	longest := longestSweepS * max(1, s.orbit.periodS/lowPeriodS)
	if rate := moved / b.Time.Sub(a.Time).Seconds(); rate > 0 {
		reach := max(shortestSweepDeg, min(math.Abs(b.marginDeg)/4, longestSweepDeg))
		longest = min(longest, reach/rate)
	}
	return max(shortestSweepS, min(longest, 2*stepS))
}

package track

import (
	"context"
	"fmt"
	"math"
	"time"
)

// Pass is one object's rise, peak and set over one site above a minimum
// elevation. Peak is the highest of all when there are several.
//
// Where no rise is found within the reach of the search before its window, and
// no set after it, the object is always up: AlwaysUp is set, and Rise and Set
// are at the ends of the window. Where only one of the two is missing (a slow
// object, or elements that end) that one is at the furthest time looked at;
// its elevation is then above the minimum.
type Pass struct {
	Rise, Peak, Set Look
	AlwaysUp        bool
}

// Duration returns the time from rise to set.
func (p Pass) Duration() time.Duration { return p.Set.Time.Sub(p.Rise.Time) }

// Passes returns all passes that overlap from..to with the object above
// minElevationDeg (-90 to 90), in order. A pass under way at either end is
// given whole, with its real rise and set outside the window, up to ten days
// outside.
//
// It misses none and invents none: the search only skips times for which it
// has a bound that the object can't be up (see wait). A dip below the minimum
// of under a second is not seen. When the elements end in mid-search (the
// object comes down), what was found until then is returned together with a
// *TimeError. A cancelled context ends the search likewise.
func (o *Orbit) Passes(ctx context.Context, site Site, from, to time.Time, minElevationDeg float64) ([]Pass, error) {
	if err := site.Check(); err != nil {
		return nil, fmt.Errorf("site: %w", err)
	}
	if !(minElevationDeg >= -90 && minElevationDeg <= 90) {
		return nil, fmt.Errorf("minimum elevation %v is outside -90 to 90", minElevationDeg)
	}
	if to.Before(from) {
		return nil, fmt.Errorf("the search ends at %s, before it begins at %s",
			to.UTC().Format(time.RFC3339), from.UTC().Format(time.RFC3339))
	}
	for _, t := range []time.Time{from, to} {
		if away := t.Sub(o.epoch); away > maxSpan || away < -maxSpan {
			return nil, o.timeError(t, ErrTooFar)
		}
	}
	s := newSearch(ctx, o, site, minElevationDeg)
	s.from, s.to = from.Sub(o.epoch).Seconds(), to.Sub(o.epoch).Seconds()
	s.reach = 10 * 86400
	return s.passes()
}

// passes walks through the window, from rise to set to rise.
func (s *search) passes() ([]Pass, error) {
	var found []Pass
	now, err := s.glance(int64(math.Floor(s.from)))
	for err == nil {
		var v *visit
		if now.margin < 0 {
			v, now, err = s.nextRise(now)
			if v == nil {
				return found, err
			}
		} else { // only at the start: a pass is under way
			v = newVisit(now)
			if err = s.back(v, now); err != nil {
				return found, err
			}
		}
		if now.margin >= 0 {
			now, err = s.follow(v, now)
		}
		if s.ctx.Err() != nil {
			return found, s.ctx.Err()
		}
		if v.set.at >= s.from && v.rise.at <= s.to {
			pass, lookErr := s.pass(v)
			if lookErr != nil {
				return found, lookErr
			}
			found = append(found, pass)
		}
		if float64(now.k) >= s.to {
			break
		}
	}
	return found, err
}

// pass turns a visit into look angles.
func (s *search) pass(v *visit) (Pass, error) {
	p := Pass{AlwaysUp: !v.rise.found && !v.set.found && v.rise.at <= s.from && v.set.at >= s.to}
	if p.AlwaysUp {
		within, err := s.window()
		if err != nil {
			return Pass{}, err
		}
		v = within
	}
	for _, part := range []struct {
		look *Look
		at   float64
	}{{&p.Rise, v.rise.at}, {&p.Peak, min(max(v.peakAt, v.rise.at), v.set.at)}, {&p.Set, v.set.at}} {
		var err error
		if *part.look, err = s.orbit.lookFrom(s.place, s.orbit.epoch.Add(seconds(part.at)), 0); err != nil {
			return Pass{}, err
		}
	}
	return p, nil
}

package track

import (
	"context"
	"math"
	"slices"
	"time"
)

// Pass is one object's rise, peak and set over one site above a minimum
// elevation or a skyline. Peak is the highest of all when there are several.
//
// Where no rise is found within the reach of the search before its window, and
// no set after it, the object is always up: AlwaysUp is set, and Rise and Set
// are at the ends of the window. Where only one of the two is missing (a slow
// object, or elements that end) that one is at the furthest time looked at;
// its elevation is then above the minimum.
type Pass struct {
	Rise, Peak, Set Look
	AlwaysUp        bool
	// Hidden is when the object is behind the skyline between rise and set, in
	// order; empty without a skyline (see PassesOver).
	Hidden []Interval
}

// Duration returns the time from rise to set.
func (p Pass) Duration() time.Duration { return p.Set.Time.Sub(p.Rise.Time) }

// Equal returns whether two passes are the same in everything.
func (p Pass) Equal(q Pass) bool {
	return p.Rise == q.Rise && p.Peak == q.Peak && p.Set == q.Set && p.AlwaysUp == q.AlwaysUp &&
		slices.Equal(p.Hidden, q.Hidden)
}

// InSight returns the stretches of the pass in which nothing hides the object,
// in order.
func (p Pass) InSight() []Interval {
	var all []Interval
	from := p.Rise.Time
	for _, h := range p.Hidden {
		all = append(all, Interval{from, h.From})
		from = h.To
	}
	return append(all, Interval{from, p.Set.Time})
}

// IsHidden returns whether the object is behind the skyline at a time within
// the pass.
func (p Pass) IsHidden(t time.Time) bool {
	for _, h := range p.Hidden {
		if t.After(h.From) && t.Before(h.To) {
			return true
		}
	}
	return false
}

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
	return o.PassesOver(ctx, site, from, to, Horizon{MinElevationDeg: minElevationDeg})
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

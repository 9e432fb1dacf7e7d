package track

import (
	"errors"
	"math"
)

// edge is the beginning or end of a visit: found, or only as far as was looked.
type edge struct {
	at    float64 // seconds after the epoch
	found bool
}

// visit is one stay above the minimum elevation.
type visit struct {
	rise, set edge
	peakAt    float64
	peak      float64 // sine of the elevation there
}

func newVisit(g glance) *visit { return &visit{peakAt: float64(g.k), peak: g.height} }

// nextRise goes from a second below the minimum to the next rise. It returns
// the visit with its rise and the first second after it; nil when there is no
// rise in the window.
func (s *search) nextRise(a glance) (*visit, glance, error) {
	last := int64(math.Ceil(s.to))
	for a.k < last {
		step := min(max(1, int64(s.wait(a))), last-a.k)
		b, err := s.glance(a.k + step)
		if err != nil {
			return nil, a, err
		}
		if b.margin >= 0 {
			if a, b, err = s.narrow(a, b); err != nil {
				return nil, a, err
			}
			v := newVisit(b)
			v.rise = edge{crossing(a, b), true}
			return v, b, s.see(v, a, b)
		}
		if step == 1 && a.marginRate > 0 && b.marginRate < 0 {
			if v := within(a, b); v != nil {
				return v, b, nil
			}
		}
		a = b
	}
	return nil, a, nil
}

// within finds a visit that begins and ends between two neighbouring seconds.
func within(a, b glance) *visit {
	h := hermite{a.margin, b.margin, a.marginRate, b.marginRate}
	low, high := 0.0, 1.0
	for range 40 {
		if mid := (low + high) / 2; h.slope(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	if h.value(low) < 0 {
		return nil
	}
	cut := func(outside float64) float64 {
		in := low
		for range 40 {
			if mid := (in + outside) / 2; h.value(mid) >= 0 {
				in = mid
			} else {
				outside = mid
			}
		}
		return in
	}
	k := float64(a.k)
	return &visit{rise: edge{k + cut(0), true}, set: edge{k + cut(1), true}, peakAt: k + low}
}

// narrow brings two seconds on different sides of the minimum together.
func (s *search) narrow(a, b glance) (glance, glance, error) {
	for b.k-a.k > 1 {
		m, err := s.glance((a.k + b.k) / 2)
		if err != nil {
			return a, b, err
		}
		if (m.margin < 0) == (a.margin < 0) {
			a = m
		} else {
			b = m
		}
	}
	return a, b, nil
}

// follow goes on from a second above the minimum to the set, and returns the
// first second after it. Where elements end first, so does the visit; it is an
// error only within the window.
func (s *search) follow(v *visit, a glance) (glance, error) {
	limit := int64(math.Ceil(s.to + s.reach))
	most := int64(math.MaxInt64)
	for a.k < limit {
		step := min(max(1, int64(s.stay(a, 1))), limit-a.k, most)
		b, err := s.glance(a.k + step)
		if _, ended := errors.AsType[*TimeError](err); ended && step > 1 {
			most = step / 2
			continue
		}
		if err != nil {
			v.set.at = float64(a.k)
			if float64(a.k) >= s.to {
				err = s.ctx.Err()
			}
			return a, err
		}
		if err := s.see(v, a, b); err != nil {
			return a, err
		}
		if b.margin < 0 {
			if a, b, err = s.narrow(a, b); err != nil {
				return a, err
			}
			v.set = edge{crossing(a, b), true}
			return b, nil
		}
		a = b
	}
	v.set.at = float64(a.k)
	return a, nil
}

// back goes back from a second above the minimum to the rise.
func (s *search) back(v *visit, b glance) error {
	limit := int64(math.Floor(s.from - s.reach))
	most := int64(math.MaxInt64)
	for b.k > limit {
		step := min(max(1, int64(s.stay(b, -1))), b.k-limit, most)
		a, err := s.glance(b.k - step)
		if _, ended := errors.AsType[*TimeError](err); ended && step > 1 {
			most = step / 2
			continue
		}
		if err != nil {
			v.rise.at = float64(b.k)
			return s.ctx.Err()
		}
		if err := s.see(v, a, b); err != nil {
			return err
		}
		if a.margin < 0 {
			if a, b, err = s.narrow(a, b); err != nil {
				return err
			}
			v.rise = edge{crossing(a, b), true}
			return nil
		}
		b = a
	}
	v.rise.at = float64(b.k)
	return nil
}

// window returns the window as a visit, for an object that is always up.
func (s *search) window() (*visit, error) {
	a, err := s.glance(int64(math.Floor(s.from)))
	if err != nil {
		return nil, err
	}
	v := newVisit(a)
	v.rise.at, v.set.at = s.from, s.to
	for float64(a.k) < s.to {
		b, err := s.glance(a.k + min(max(1, int64(s.stay(a, 1))), int64(math.Ceil(s.to))-a.k))
		if err != nil {
			return nil, err
		}
		if err := s.see(v, a, b); err != nil {
			return nil, err
		}
		a = b
	}
	return v, nil
}

// see takes note of the highest point between two seconds.
func (s *search) see(v *visit, a, b glance) error {
	for _, g := range []glance{a, b} {
		if g.margin >= 0 && g.height > v.peak {
			v.peakAt, v.peak = float64(g.k), g.height
		}
	}
	if a.climb <= 0 || b.climb > 0 {
		return nil
	}
	return s.refine(v, a, b)
}

// refine finds the peak between two seconds of which the first climbs and the
// second doesn't.
func (s *search) refine(v *visit, a, b glance) error {
	// False position (Illinois) on the climb, then a parabola through heights:
	// the model's velocity is not quite the derivative of its position, which
	// would move a slow peak by seconds.
	near := max(4, int64(s.orbit.periodS/2000))
	fa, fb := a.climb, b.climb
	for side := 0; b.k-a.k > near; {
		k := a.k + int64(math.Round(float64(b.k-a.k)*fa/(fa-fb)))
		m, err := s.glance(min(max(k, a.k+1), b.k-1))
		if err != nil {
			return err
		}
		if m.climb > 0 {
			a, fa = m, m.climb
			if side == 1 {
				fb /= 2
			}
			side = 1
		} else {
			b, fb = m, m.climb
			if side == -1 {
				fa /= 2
			}
			side = -1
		}
	}
	middle := a.k + int64(math.Round(float64(b.k-a.k)*a.climb/(a.climb-b.climb)))
	for range 20 {
		var height [3]float64
		for i := range height {
			g, err := s.glance(middle + int64(i-1)*near/2)
			if err != nil {
				return err
			}
			height[i] = g.height
		}
		slope, bend := (height[2]-height[0])/2, height[0]-2*height[1]+height[2]
		f := -slope / bend
		if bend < 0 && math.Abs(f) > 1 { // the parabola's top is outside
			middle += int64(math.Copysign(float64(near/2), f))
			continue
		}
		if h := height[1] + f*slope/2; bend < 0 && h > v.peak-1e-9 {
			v.peakAt, v.peak = float64(middle)+f*float64(near/2), h
		}
		break
	}
	return nil
}

package track

import (
	"context"
	"fmt"
	"math"
	"time"
)

// Horizon is what an object must stand above to be in sight of a site: the
// higher of a minimum elevation and a skyline.
type Horizon struct {
	MinElevationDeg float64 // the same all round, -90 to 90

	// SkylineDeg returns the elevation in degrees of what hides the sky at a
	// true azimuth in degrees, [0, 360). NaN: all of it is hidden. Nil: nothing
	// is hidden at any azimuth.
	SkylineDeg func(azimuthDeg float64) float64
	// LowestDeg is the lowest elevation that SkylineDeg returns; where it
	// returns less, LowestDeg counts. Not used without SkylineDeg.
	LowestDeg float64
}

// lowest returns the elevation in degrees below which nothing is in sight.
func (h Horizon) lowest() float64 {
	if h.SkylineDeg == nil {
		return h.MinElevationDeg
	}
	return max(h.MinElevationDeg, h.LowestDeg)
}

// at returns the elevation of the horizon at an azimuth, both in degrees.
func (h Horizon) at(azimuthDeg float64) float64 {
	if h.SkylineDeg == nil {
		return h.MinElevationDeg
	}
	top := h.SkylineDeg(azimuthDeg)
	if math.IsNaN(top) {
		return math.Inf(1)
	}
	return max(h.lowest(), top)
}

// Interval is a stretch of time.
type Interval struct{ From, To time.Time }

// PassesOver returns the passes over a horizon that overlap from..to, as Passes
// does over a minimum elevation.
//
// Behind a skyline, Rise is where the object first comes in sight and Set where
// it is last in sight, to a millisecond; what hides it in between is in Hidden,
// so that a tree does not make two passes of one. Peak is the highest direction
// in sight, where the highest of all is hidden to about a second of a low
// object. An object that never sinks below the lowest of the horizon is
// AlwaysUp only if it is in sight for all of the window; else Rise and Set are
// the first and the last sight within the window. What the object passes in
// less than a quarter of a degree, or in less than a tenth of a second, can be
// missed: a mast, but not a tree.
func (o *Orbit) PassesOver(ctx context.Context, site Site, from, to time.Time, horizon Horizon) ([]Pass, error) {
	if err := site.Check(); err != nil {
		return nil, fmt.Errorf("site: %w", err)
	}
	lowest := horizon.lowest()
	if !(lowest >= -90 && lowest <= 90) {
		return nil, fmt.Errorf("minimum elevation %v is outside -90 to 90", lowest)
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
	s := newSearch(ctx, o, site, lowest)
	s.from, s.to = from.Sub(o.epoch).Seconds(), to.Sub(o.epoch).Seconds()
	s.reach = 10 * 86400
	passes, err := s.passes()
	if horizon.SkylineDeg == nil {
		return passes, err
	}
	var inSight []Pass
	w := sweep{ctx, o, s.place, horizon}
	for _, p := range passes {
		seen, sweepErr := w.pass(p)
		if sweepErr != nil {
			return inSight, sweepErr
		}
		if seen != nil && !seen.Set.Time.Before(from) && !seen.Rise.Time.After(to) {
			inSight = append(inSight, *seen)
		}
	}
	return inSight, err
}

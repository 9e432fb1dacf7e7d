package track

import (
	"context"
	"errors"
	"time"
)

// Pass is one object's rise, peak and set over one site above a minimum
// elevation. An object that never sets in a search is one Pass with AlwaysUp,
// its Rise and Set at the ends of the search.
type Pass struct {
	Rise, Peak, Set Look
	AlwaysUp        bool
}

// Duration returns the time from rise to set.
func (p Pass) Duration() time.Duration { return p.Set.Time.Sub(p.Rise.Time) }

// Passes returns all passes that overlap from..to with the object above
// minElevationDeg, in order. A pass under way at either end is given whole,
// with its real rise and set outside the window.
func (o *Orbit) Passes(ctx context.Context, site Site, from, to time.Time, minElevationDeg float64) ([]Pass, error) {
	return nil, errors.New("not written yet")
}

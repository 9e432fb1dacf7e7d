// Package beacon knows when a satellite's beacon sends: a schedule of bursts,
// the bursts expected in a pass, and the wait for the next one.
//
// Times are UTC as computers count it: leap seconds take no place in it, so a
// beacon that counts seconds for itself is a second off after one. All
// arithmetic is in whole nanoseconds and does not drift.
package beacon

import (
	"errors"
	"fmt"
	"time"
)

// Schedule is how a beacon sends: one burst every Period. Each burst's time is
// its start.
type Schedule struct {
	Period time.Duration // start to start; MinPeriod to MaxPeriod
	// First is the start of any one burst; all others are whole periods from
	// it, before and after. Zero: the phase is unknown.
	First  time.Time
	Length time.Duration // of one burst, shorter than Period; 0 when unknown
	// Tolerance is how far a burst's start may be from its computed time
	// (one standard deviation), at most half of Period; 0 when unknown.
	Tolerance time.Duration
}

// The periods that make sense here: faster than MinPeriod the beacon is as good
// as always on, and nobody turns an antenna from burst to burst; slower than
// MaxPeriod is a slip of the keyboard.
const (
	MinPeriod = 100 * time.Millisecond
	MaxPeriod = 24 * time.Hour
)

// The years that First may lie in: from the first satellite to the last year
// that the arithmetic reaches with room to spare.
const firstYear, lastYear = 1957, 2200

// ErrPhaseUnknown is returned where burst times are asked of a schedule that
// has a period but no First.
var ErrPhaseUnknown = errors.New("the times of the bursts are unknown until the start of one is given")

// Validate returns an error that names the first field out of range, its value
// and what would be right. An unknown phase is valid.
func (s Schedule) Validate() error {
	switch {
	case s.Period < MinPeriod || s.Period > MaxPeriod:
		return fmt.Errorf("burst period %s is not within %s to %s", s.Period, MinPeriod, MaxPeriod)
	case s.Length < 0:
		return fmt.Errorf("burst length %s is negative: give 0 if it is unknown", s.Length)
	case s.Length >= s.Period:
		return fmt.Errorf("burst length %s is not shorter than the period %s", s.Length, s.Period)
	case s.Tolerance < 0:
		return fmt.Errorf("burst tolerance %s is negative: give 0 if it is unknown", s.Tolerance)
	case s.Tolerance > s.Period/2:
		return fmt.Errorf("burst tolerance %s is more than half the period %s: leave out the first burst, its time says nothing", s.Tolerance, s.Period)
	}
	if y := s.First.UTC().Year(); !s.First.IsZero() && (y < firstYear || y > lastYear) {
		return fmt.Errorf("first burst %s is not within the years %d to %d", s.First.UTC().Format(time.RFC3339), firstYear, lastYear)
	}
	return nil
}

// Known tells whether burst times can be computed: a valid schedule and a phase.
func (s Schedule) Known() bool { return s.known() == nil }

// known says why burst times can't be computed.
func (s Schedule) known() error {
	if err := s.Validate(); err != nil {
		return err
	}
	if s.First.IsZero() {
		return fmt.Errorf("%w; the longest wait for one is %s", ErrPhaseUnknown, s.LongestWait())
	}
	return nil
}

// LongestWait is the longest that one may have to wait for the start of a
// burst: one period, start to start. With an unknown phase it is all that can
// be said.
func (s Schedule) LongestWait() time.Duration { return s.Period }

// UncertaintyS is how far the start of a burst near t may be from its computed
// time: one standard deviation in seconds, 0 when unknown. The period is taken
// as exact, so that it is the same at all times.
func (s Schedule) UncertaintyS(t time.Time) float64 { return s.Tolerance.Seconds() }

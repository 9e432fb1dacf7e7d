package beacon

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// Burst is one expected transmission.
type Burst struct {
	Number int       // counted from Schedule.First, which is 0; negative before it
	Time   time.Time // its start, UTC
}

// MaxBursts is the most bursts that one call lists: 34 days of a beacon that
// sends every 30 s.
const MaxBursts = 100_000

// ErrTooManyBursts is returned where more than MaxBursts would be listed.
var ErrTooManyBursts = errors.New("too many bursts")

// Burst times are computed up to maxSpan and maxNumber bursts from First, either
// way. With MaxPeriod added the span stays within a time.Duration (292 years),
// and a number, and a count of bursts between any two, fits an int on every
// platform. That is 3.4 years of MinPeriod and 250 years of ten seconds.
const (
	maxSpan   = 250 * 365 * 24 * time.Hour
	maxNumber = math.MaxInt32 / 2
)

// Next returns the first burst that starts at t or later: the one to prepare
// for. A burst that is sounding at t has started before. It returns the zero
// Burst, whose Time is zero, when the schedule isn't Known or First is out of
// reach: 250 years or a thousand million bursts from t.
func (s Schedule) Next(t time.Time) Burst {
	n, err := s.numberFrom(t)
	if err != nil {
		return Burst{}
	}
	return s.burst(n)
}

// Bursts lists the bursts that start in [from, to), in order. It fails when the
// schedule is not valid, with ErrPhaseUnknown when it has no phase, and with
// ErrTooManyBursts when there are more than MaxBursts.
func (s Schedule) Bursts(from, to time.Time) ([]Burst, error) {
	if err := s.known(); err != nil {
		return nil, err
	}
	count, _, err := s.Count(from, to)
	if err != nil || count == 0 {
		return nil, err
	}
	if count > MaxBursts {
		return nil, fmt.Errorf("%w: %d from %s to %s, at most %d: ask for a shorter time",
			ErrTooManyBursts, count, from.UTC().Format(time.RFC3339), to.UTC().Format(time.RFC3339), MaxBursts)
	}
	first, err := s.numberFrom(from)
	if err != nil {
		return nil, err
	}
	bursts := make([]Burst, count)
	for i := range bursts {
		bursts[i] = s.burst(first + i)
	}
	return bursts, nil
}

// Count returns the least and the most bursts that can start in [from, to).
// They are equal when the phase is known, and at most one apart when it isn't.
// It fails when the schedule is not valid.
func (s Schedule) Count(from, to time.Time) (least, most int, err error) {
	if err := s.Validate(); err != nil {
		return 0, 0, err
	}
	from, to = from.UTC(), to.UTC()
	if !from.Before(to) {
		return 0, 0, nil
	}
	if s.First.IsZero() {
		span := to.Sub(from)
		most, ok := periods(span, s.Period)
		if !ok {
			return 0, 0, fmt.Errorf("%s to %s is too long to count bursts in", from.Format(time.RFC3339), to.Format(time.RFC3339))
		}
		return int(span / s.Period), most, nil
	}
	first, err := s.numberFrom(from)
	if err != nil {
		return 0, 0, err
	}
	end, err := s.numberFrom(to)
	if err != nil {
		return 0, 0, err
	}
	return end - first, end - first, nil
}

// numberFrom returns the number of the first burst that starts at t or later.
// UTC drops a monotonic clock's reading, which would tell another time than the
// wall clock after the computer has slept or its clock was set.
func (s Schedule) numberFrom(t time.Time) (int, error) {
	if err := s.known(); err != nil {
		return 0, err
	}
	d := t.UTC().Sub(s.First.UTC())
	n, ok := periods(d, s.Period)
	if !ok {
		return 0, fmt.Errorf("%s is too far from the first burst %s: give one nearer",
			t.UTC().Format(time.RFC3339), s.First.UTC().Format(time.RFC3339))
	}
	return n, nil
}

// burst returns the burst with a number that numberFrom gave.
func (s Schedule) burst(number int) Burst {
	return Burst{Number: number, Time: s.First.UTC().Add(time.Duration(number) * s.Period)}
}

// periods returns d/period rounded up, and whether it is within reach.
func periods(d, period time.Duration) (int, bool) {
	if d < -maxSpan || d > maxSpan {
		return 0, false
	}
	n := d / period
	if d%period > 0 {
		n++
	}
	return int(n), -maxNumber <= n && n <= maxNumber
}

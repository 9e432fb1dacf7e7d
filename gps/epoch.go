package gps

import "time"

const (
	// epochAge is how long sentences of one moment keep coming at most.
	epochAge = 2 * time.Second
	// calendarAge is how long a date is carried on by the computer's clock.
	calendarAge = time.Hour
	// keepAge is how long height, satellites and dilution of earlier moments
	// complete a newer position.
	keepAge = 5 * time.Second
	// pause is how long a line is quiet between moments at least.
	pause = 50 * time.Millisecond
)

// epoch is one moment: all sentences that name the same time of day.
type epoch struct {
	timeKnown bool
	timeOfDay time.Duration
	arrived   time.Time     // the first byte of its first sentence with a time
	lead      time.Duration // how long sentences without one came just before
	utc       time.Time     // zero while the date isn't known
	refused   bool          // a sentence said that there is no fix
	accepted  bool          // a position of it is used
	sampled   bool          // its time has been used
}

// holds tells whether a sentence belongs to the epoch.
func (e *epoch) holds(s sentence, arrived time.Time) bool {
	if e.arrived.IsZero() || arrived.Sub(e.arrived).Abs() > epochAge {
		return false
	}
	return !s.timeKnown || (e.timeKnown && s.timeOfDay == e.timeOfDay)
}

// burst watches for sentences without a time that come just before one with.
type burst struct{ since, end time.Time }

// lead takes a sentence's first byte and its time on the wire. It gives how
// long others have come before it, since the line's last pause and the last
// sentence with a time.
func (b *burst) lead(firstByte time.Time, onWire time.Duration, timed bool) time.Duration {
	quiet := firstByte.Sub(b.end)
	if b.end.IsZero() || quiet > pause || quiet < -pause {
		b.since = firstByte
	}
	lead := firstByte.Sub(b.since)
	b.end = firstByte.Add(onWire)
	if timed {
		b.since = b.end
	}
	return max(lead, 0)
}

// newEpoch begins an epoch with a sentence.
func newEpoch(s sentence, arrived time.Time) epoch {
	return epoch{timeKnown: s.timeKnown, timeOfDay: s.timeOfDay, arrived: arrived}
}

// calendar joins times of day with the date of another sentence, across
// midnight.
type calendar struct{ utc, arrived time.Time }

// set notes a full time.
func (c *calendar) set(date time.Time, timeOfDay time.Duration, arrived time.Time) {
	*c = calendar{utc: date.Add(timeOfDay), arrived: arrived}
}

// join gives the full time for a time of day: of the days around, the one
// nearest to the last full time carried on. It is zero when none is recent.
func (c *calendar) join(timeOfDay time.Duration, arrived time.Time) time.Time {
	elapsed := arrived.Sub(c.arrived)
	if c.utc.IsZero() || elapsed.Abs() > calendarAge {
		return time.Time{}
	}
	const day = 24 * time.Hour
	expected := c.utc.Add(elapsed)
	utc := expected.Truncate(day).Add(timeOfDay)
	switch off := utc.Sub(expected); {
	case off > day/2:
		return utc.Add(-day)
	case off < -day/2:
		return utc.Add(day)
	}
	return utc
}

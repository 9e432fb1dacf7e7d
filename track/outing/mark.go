package outing

import "time"

// MarkKind is what a mark says.
type MarkKind string

// The kinds of marks.
const (
	Heard        MarkKind = "heard"         // a burst was heard or seen
	Silent       MarkKind = "silent"        // one was expected, listened for, and not heard
	NotListening MarkKind = "not_listening" // nobody listened, so silence says nothing
	NoiseUp      MarkKind = "noise_up"      // the noise floor is higher than usual
	NoiseNormal  MarkKind = "noise_normal"  // it is as usual again
)

// known tells whether k is one of the kinds above.
func (k MarkKind) known() bool {
	switch k {
	case Heard, Silent, NotListening, NoiseUp, NoiseNormal:
		return true
	}
	return false
}

// Strength is how well a burst was heard; empty when nobody said.
type Strength string

// The strengths.
const (
	Weak   Strength = "weak"
	Good   Strength = "good"
	Strong Strength = "strong"
)

func (s Strength) known() bool { return s == Weak || s == Good || s == Strong }

// Held is the hold that a mark was made in and the direction that was advised
// for it. The zero Held is unknown.
type Held struct {
	Hold         int     // its number; 0 outside a plan
	Known        bool    // the direction was advised
	AzimuthDeg   float64 // clockwise from the operator's own true north
	ElevationDeg float64 // above the horizon
}

// Origin is the burst that a mark is about.
type Origin struct {
	// Expected tells that the mark belongs to the expected burst Number. A
	// mark of what was heard without it is a burst where none was expected.
	Expected bool
	Number   int
	Start    time.Time // as it was expected; zero without Expected
	// LikelyStart is when what was heard began, from the time of the mark
	// alone: the schedule has no part in it, so that it may be learned from.
	// Zero when nothing was heard. UncertaintyS is its standard deviation.
	LikelyStart  time.Time
	UncertaintyS float64
}

// Fate is what became of a mark.
type Fate string

// The fates.
const (
	Stands   Fate = ""         // it holds
	Undone   Fate = "undone"   // the operator took it back
	Replaced Fate = "replaced" // a later mark says otherwise: a silence that was heard after all
)

// Mark is one thing that the operator said, or that the program concluded from
// their saying nothing. It is never deleted: when it changes, it is given out
// anew with the same ID, and the last one given out holds.
type Mark struct {
	ID int // in the order made, from 1
	// CatalogueNumber is the satellite's; 0 where nobody said.
	CatalogueNumber int
	At              time.Time // of the key, UTC, whole milliseconds; of a silence: when hope ended
	Kind            MarkKind
	Strength        Strength
	FrequencyHz     float64 // as received; 0 when not said
	Held            Held
	Origin          Origin
	Automatic       bool // made by the program
	// Until is when listening began again after a NotListening that was set by
	// key; zero while it lasts and for all other marks.
	Until time.Time
	Fate  Fate
	Note  string // printable, one line
}

// stands tells whether the mark holds.
func (m Mark) stands() bool { return m.Fate == Stands }

// Burst returns the start of the burst that the mark is about: as expected
// where it belongs to an expected one, else as likely, else the mark's time.
func (m Mark) Burst() time.Time {
	switch {
	case m.Origin.Expected:
		return m.Origin.Start
	case !m.Origin.LikelyStart.IsZero():
		return m.Origin.LikelyStart
	}
	return m.At
}

// stamp makes a time as it is kept: UTC, whole milliseconds, and without a
// monotonic reading, so that what is read back from a record is equal.
func stamp(t time.Time) time.Time { return t.UTC().Round(time.Millisecond) }

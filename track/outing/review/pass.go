package review

import (
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/elements"
	"foreaim/track/outing"
)

// Pass is the review of one pass of an outing.
type Pass struct {
	File, Outing    string // of the record
	Demo            bool   // nothing in it is real
	Satellite       string
	CatalogueNumber int
	Site            *track.Site   // nil: the record has no position
	Elements        *elements.Set // that were used; nil: the record has none
	Likely          track.Likely  // how far the object may be from them; zero without
	Rise, Peak, Set track.Look    // as predicted then
	Schedule        beacon.Schedule
	FrequencyHz     float64 // as sent; 0 unknown
	HeadingSigmaDeg float64 // of the facing
	FacingHow       string  // what the facing was made of; empty: it was never set
	FacingDeg       float64 // its true azimuth, as believed; only with FacingHow
	BeamwidthDeg    float64 // of the settings

	Bursts []Burst // expected, in order; without a schedule those that were marked
	Strays []Burst // heard where none was expected
	Noise  []Span  // when the noise was marked as up
	Path   []Point // from rise to set
	Tests  []Test  // of the noise, and what they found

	Estimates Estimates
	Objects   []Object // of the settings' group, the likeliest first
	Verdict   Verdict
	Missing   []string // what the record lacks, in words
	Notes     []outing.TimedNote

	outside bool // the record holds nothing of it
	facts   facts
	profile profile
}

// Span is a time from one moment to another.
type Span struct{ From, To time.Time }

// Test is what a noise test found.
type Test struct {
	At    time.Time
	Cause outing.Cause
	Words string
}

// Point is where the satellite was: by its elements, and as estimated.
type Point struct {
	Look  track.Look
	Found track.Look
}

// Outcome is what became of a burst.
type Outcome string

// The outcomes.
const (
	Heard        Outcome = "heard"
	Silent       Outcome = "silent"
	NotListening Outcome = "not listening"
	Unmarked     Outcome = "not marked" // the record doesn't say
)

// Source is how it is known where the antenna was held.
type Source string

// The sources, the best first.
const (
	BySensor Source = "sensor" // on the boom
	ByHold   Source = "hold"   // that was reached
	ByMark   Source = "mark"   // the direction advised when it was marked
	ByAdvice Source = "advice" // the last before the burst
	Nowhere  Source = ""       // unknown
)

// Burst is one transmission, expected or heard.
type Burst struct {
	Number   int
	Time     time.Time // start
	Outcome  Outcome
	Strength outing.Strength
	NoiseUp  bool

	Look  track.Look // by the elements; zero time: unknown
	Found track.Look // with the estimated time error; likewise

	Source     Source
	Held       aim.Direction // as the operator believes it by the end of the pass
	Advised    aim.Direction
	AdvisedSet bool // Advised is known
	// AimErrorDeg is between where the boom pointed, as estimated, and Found.
	AimErrorDeg outing.Number
	// MarginDB is the signal against hearing, as estimated, in that direction.
	MarginDB outing.Number

	FrequencyHz outing.Number // as received
	// OffsetHz is FrequencyHz less what is expected at Found.
	OffsetHz outing.Number

	sensed bool
}

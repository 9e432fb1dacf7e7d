package aim

import "time"

// Kind is what an observation says.
type Kind string

// The kinds of observations.
const (
	Heard        Kind = "heard"         // a burst was heard or seen
	Silent       Kind = "silent"        // listened, and nothing heard
	NotListening Kind = "not_listening" // nobody listened, so silence says nothing
	NoiseUp      Kind = "noise_up"      // the noise is higher than usual from now on
	NoiseNormal  Kind = "noise_normal"  // it is as usual again
)

// Strength is how well a burst was heard; empty when nobody said.
type Strength string

// The strengths.
const (
	Weak   Strength = "weak"
	Good   Strength = "good"
	Strong Strength = "strong"
)

// Observation is one thing noticed during a pass.
type Observation struct {
	// Time is when it was marked. A heard burst began a moment earlier (see
	// reaction). With a known phase the observation is about the burst that
	// began last, or within the next few seconds. Without one, silence reaches
	// back to the observation before, and there is one hold in between.
	Time time.Time
	Kind Kind
	// Held is the direction held, as the operator believes it; nil: the one
	// that was advised.
	Held *Direction
	// Sensed tells that Held is from a sensor on the boom: it has the heading's
	// error but not the hand's.
	Sensed      bool
	Strength    Strength // only with Heard
	FrequencyHz float64  // as received; 0 when not measured, only with Heard
}

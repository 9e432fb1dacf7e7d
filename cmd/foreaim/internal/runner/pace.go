package runner

import "time"

// pace is how a voice compares with the one that the estimates are made for: 2
// takes twice as long. The zero pace has heard nothing yet.
type pace float64

const (
	// No voice is twice as fast as 160 words a minute and understood outdoors;
	// a command that ends sooner hands its text to somebody else, who still
	// speaks.
	fastestPace pace = 0.5
	slowestPace pace = 5
	// paceGain is the weight of a new measurement.
	paceGain = 0.3
)

// of returns how long it will take what is estimated to take the given time.
func (p pace) of(estimate time.Duration) time.Duration {
	if p == 0 {
		return estimate
	}
	return time.Duration(float64(p) * float64(estimate))
}

// learn takes a measurement: the first as it is, later ones in part.
func (p pace) learn(estimate, took time.Duration) pace {
	if estimate <= 0 {
		return p
	}
	seen := min(max(pace(float64(took)/float64(estimate)), fastestPace), slowestPace)
	if p == 0 {
		return seen
	}
	return p + paceGain*(seen-p)
}

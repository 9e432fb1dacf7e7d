package review

// Cause is why less was heard than could have been.
type Cause int

// The causes, in the order of the chain from hand to satellite.
const (
	Aim Cause = iota
	North
	Elements
	Tuning
	WeakLink
	Interference
	Transmitter
	NotListened
	causeCount
)

var causeNames = [causeCount]string{
	"aim", "north", "elements or wrong object", "tuning", "weak link",
	"interference or overload", "transmitter silent or off schedule", "not listening",
}

// String returns the cause's name.
func (c Cause) String() string { return causeNames[c] }

// Causes returns all of them.
func Causes() []Cause {
	all := make([]Cause, causeCount)
	for i := range all {
		all[i] = Cause(i)
	}
	return all
}

// What counts as a cause: an error that costs bursts, whatever is usual for it.
const (
	// offBeam is the share of the beamwidth that an error must move the aim by
	// to count as a wrong north or as wrong elements: a quarter of it costs 0.75
	// dB, half of it 3 dB.
	offBeam = 0.25
	// weakDB is the margin at the nearest point of the pass, on the beam's axis,
	// below which a link is called weak.
	weakDB = 1.0
	// awayMost is the share of the bursts from which on not listening is a cause.
	awayMost = 0.25
	// noisyMost is the share of the pass with the noise up that is more than a
	// passing disturbance.
	noisyMost = 0.15
)

// Before anything is looked at: no mistake, one, two at once (a guess: who looks at
// a review has mostly missed something).
const (
	priorNone = 0.1
	priorOne  = 0.6
	priorTwo  = 0.3
)

// Of mistakes with the elements some are another object that is heard: outOfSight
// where nothing is known of others, and where a group is, rivalShare and
// outsideGroup (guesses, no source).
const outOfSight, rivalShare, outsideGroup = 0.2, 0.4, 0.05

package review

import "foreaim/track/outing"

// hand is what is known of where the boom was.
type hand int

const (
	steady hand = iota // as advised, but for the hand's scatter
	wild               // anywhere
	sensed             // as a sensor tells
)

// strengths is how many there are.
const strengths = 3

// wildDeg is the scatter, an axis, of a hand that was anywhere.
const wildDeg = 45.0

// tables makes the tables of hearing as they are needed.
type tables struct {
	settings Settings
	made     map[tableKey]*table
}

type tableKey struct {
	hand
	strength outing.Strength
}

func (t *tables) of(h hand, s outing.Strength) *table {
	k := tableKey{h, s}
	if t.made[k] == nil {
		scatter := t.settings.HandDeg
		switch h {
		case wild:
			scatter = wildDeg
		case sensed:
			scatter = sensorDeg
		}
		t.made[k] = newTable(t.settings.BeamwidthDeg, scatter, t.settings.FadingDB, s)
	}
	return t.made[k]
}

package aim

// A beam and a wave that are both linearly polarised may lie across each other,
// where nearly nothing is heard however well the beam is aimed. One turn of the
// boom about its own axis by 90° cures that.

// twistAfter is how many bursts must have been missed that should have been heard
// until the boom is twisted: fewer happen by chance every few passes.
const twistAfter = 1.3

// twist keeps count of what was advised about the twist. What was advised stays
// so, whatever later observations say of the bursts that were missed.
type twist struct {
	// owed is how many bursts should have been heard since one was, or since the
	// beginning, and turned by how many quarter turns the boom was twisted then.
	owed   float64
	turned int
}

// heard counts a burst that was heard: the boom is right as it is.
func (t *twist) heard() { t.owed, t.turned = 0, t.turns() }

// missed counts what was missed but heard with a probability.
func (t *twist) missed(p float64) { t.owed += p }

// turns is by how many quarter turns the boom should have been twisted.
func (t *twist) turns() int { return t.turned + int(t.owed/twistAfter) }

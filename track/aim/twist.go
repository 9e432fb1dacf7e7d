package aim

// A beam and a wave that are both linearly polarised may lie across each other,
// where nearly nothing is heard however well the beam is aimed. One turn of the
// boom about its own axis by 90° cures that.

// twistAfter is how many bursts must have been missed that should have been heard
// until the boom is twisted: fewer happen by chance every few passes.
const twistAfter = 1.3

// owe counts a burst that was heard or missed; p is how probable that was.
func (e *evidence) owe(heard bool, p float64) {
	if heard { // the boom is right as it is
		e.owed, e.turned = 0, e.turns()
		return
	}
	e.owed += 1 - p
}

// turns is by how many quarter turns the boom should have been twisted.
func (e *evidence) turns() int { return e.turned + int(e.owed/twistAfter) }

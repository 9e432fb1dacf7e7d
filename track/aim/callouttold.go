package aim

// Told is which holds the operator was told the way to, one from the other: the
// hand can go on only from one of these. The zero value is nobody's who has been
// told anything.
type Told struct{ first, last int } // numbers of holds

// With returns what is told once a callout has been given.
func (t Told) With(call Callout) Told {
	switch {
	case !call.Way:
		return t
	case call.From == 0: // a new start
		return Told{call.Hold, call.Hold}
	default:
		return Told{t.first, call.Hold}
	}
}

// Has tells whether the operator was told the way to a hold; false for nil.
func (t Told) Has(h *Hold) bool { return h != nil && t.first <= h.Number && h.Number <= t.last }

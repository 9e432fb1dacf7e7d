package outing

// Cause is where noise comes from.
type Cause string

// The causes.
const (
	InBeam   Cause = "external noise in the beam"
	AllRound Cause = "own computer or a source close by"
	Inside   Cause = "noise that doesn't come by the antenna"
	Overload Cause = "overload"
	Outside  Cause = "noise from outside"
	NoGain   Cause = "preamplifier without effect"
	Usual    Cause = "nothing unusual"
	Unclear  Cause = "can't tell"
)

// Finding is what the answers of a noise test mean.
type Finding struct {
	Cause   Cause
	Meaning string // one line of a screen
	Back    string // what to put back first; empty where it is to stay as it is
	Do      string // what to do now, one line of a screen
}

// Finding returns what the answers mean; false while questions are open.
func (t *Triage) Finding() (Finding, bool) {
	if _, open := t.Question(); open {
		return Finding{}, false
	}
	f := t.judge()
	if f.Cause != Overload {
		f.Back = t.putBack()
	}
	return f, true
}

// judge weighs the answers.
func (t *Triage) judge() Finding {
	turned, weakened, much := t.answer(TurnAway), t.answer(Weaken), t.answer(TooMuch)
	switch {
	case much == Yes:
		return t.overload(turned)
	case weakened == No && turned == Yes:
		return Finding{Cause: Unclear, Meaning: "The answers don't go together: what stops turned away must weaken too.",
			Do: "Ask again after the next burst."}
	case weakened == No && t.raised:
		return Finding{Cause: Inside, Meaning: "Not by the antenna: own computer, its cables, or the receiver itself.",
			Do: "Unplug chargers; move the receiver away from the computer."}
	case weakened == No && t.way == Bypass:
		return Finding{Cause: NoGain, Meaning: "The preamplifier adds no noise of its own, so probably no gain either.",
			Do: "See that it is powered, and that its cables are good."}
	case weakened == No:
		return Finding{Cause: Usual, Meaning: "Nothing unusual: the receiver's own noise.",
			Do: "Go on; the noise is not why nothing is heard."}
	case turned == Yes && much == No:
		return Finding{Cause: InBeam, Meaning: "External noise in the beam: it comes from where you aim.",
			Do: "Go on where it is weaker; for what stays in it, another place or pass."}
	case turned == No && much == No && t.raised:
		return Finding{Cause: AllRound, Meaning: "It comes from all round: own computer or a source close by.",
			Do: "Carry the antenna ten steps from the computer, the car and the fence."}
	case turned == No && much == No:
		return Finding{Cause: Usual, Meaning: "Nothing unusual: the ordinary noise of the surroundings.",
			Do: "Go on; the noise is not why nothing is heard."}
	case turned == Yes:
		return Finding{Cause: Unclear, Meaning: "It comes from where you aim: noise, or a strong transmitter there.",
			Do: "Aim past it where you can; ask again after the next burst."}
	case much == No && t.way == Bypass && !t.raised:
		return Finding{Cause: Unclear, Meaning: "External noise, or the preamplifier's own, which is as it should be.",
			Do: "Go on; ask again when the noise is up."}
	case much == No:
		return Finding{Cause: Outside, Meaning: "External noise; the direction is not clear.",
			Do: "Turn slowly round between bursts and mark where it is up."}
	}
	return Finding{Cause: Unclear, Meaning: "The answers don't tell.",
		Do: "Ask again after the next burst, with the level in view."}
}

// overload tells what a drop by much more than was put in means: products fall
// by two or three times as much as what makes them.
func (t *Triage) overload(turned Answer) Finding {
	f := Finding{Cause: Overload, Meaning: "Strong transmitters overload preamplifier or receiver."}
	if turned == Yes {
		f.Meaning = "A strong transmitter where you aim overloads preamplifier or receiver."
	}
	f.Do = "Try with the attenuator in; a filter before the preamplifier cures it."
	if t.way == Bypass {
		f.Do = "Leave the preamplifier out, its feed off; a filter before it cures it."
	}
	return f
}

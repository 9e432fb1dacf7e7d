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
	Usual    Cause = "nothing unusual"
	Unclear  Cause = "can't tell"
)

// Finding is what the answers of a noise test mean.
type Finding struct {
	Cause   Cause
	Meaning string // one line
	Do      string // what to do now, one line
}

// Finding returns what the answers mean; false while questions are open.
func (t *Triage) Finding() (Finding, bool) {
	if _, open := t.Question(); open {
		return Finding{}, false
	}
	f := t.judge()
	if f.Cause != Overload {
		f.Do = t.putBack() + " " + f.Do
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
		return Finding{Unclear, "The answers don't go together: what turns away also weakens.", "Ask again after the next burst."}
	case weakened == No && t.raised:
		return Finding{Inside, "It doesn't come by the antenna: own computer, its cables, or the receiver itself.",
			"Unplug chargers and what you can spare; move the receiver away from the computer."}
	case weakened == No:
		return Finding{Usual, "Nothing unusual: the receiver's own noise.", "Go on; the noise is not why nothing is heard."}
	case turned == Yes && much == No:
		return Finding{InBeam, "External noise in the beam: it comes from where you aim.",
			"Go on where it is weaker; for what stays in it, another place or pass."}
	case turned == No && much == No && t.raised:
		return Finding{AllRound, "It comes from all round: own computer or a source close by.",
			"Carry the antenna ten steps from the computer, the car and the fence."}
	case turned == No && much == No:
		return Finding{Usual, "Nothing unusual: the ordinary noise of the surroundings.", "Go on; the noise is not why nothing is heard."}
	case turned == Yes:
		return Finding{Unclear, "It comes from where you aim: noise, or a strong transmitter there.", "Aim past it where you can; ask again after the next burst."}
	case much == No:
		return Finding{Outside, "External noise; the direction is not clear.", "Turn slowly round between bursts and mark where it is up."}
	}
	return Finding{Unclear, "The answers don't tell.", "Ask again after the next burst, with the level in view."}
}

// overload tells what a drop by much more than was put in means: products fall
// by two or three times as much as what makes them.
func (t *Triage) overload(turned Answer) Finding {
	f := Finding{Cause: Overload, Meaning: "Overload of the preamplifier or receiver by strong transmitters."}
	if turned == Yes {
		f.Meaning = "Overload of the preamplifier or receiver by a strong transmitter where you aim."
	}
	f.Do = "Leave the attenuator in if the beacon is strong enough; a filter before the preamplifier cures it."
	if t.way == Bypass {
		f.Do = "Leave the preamplifier out, its feed off; a filter before it cures it."
	}
	return f
}

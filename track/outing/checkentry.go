package outing

import "time"

// What a checklist's entries answer.
const (
	answerDone = "done"
	answerOpen = "open"
)

// Entry makes the entry of a tick.
func (k Check) Entry() CheckEntry {
	e := CheckEntry{List: ListChecklist, Item: Text(k.Name), Answer: answerOpen, ByItself: k.ByItself}
	if k.Done {
		e.Answer = answerDone
	}
	return e
}

// CheckOf returns the tick that an entry, recorded at a time, is of; false when
// it is not of the checklist.
func CheckOf(e CheckEntry, at time.Time) (Check, bool) {
	if e.List != ListChecklist || e.Answer != answerDone && e.Answer != answerOpen {
		return Check{}, false
	}
	return Check{Name: string(e.Item), Done: e.Answer == answerDone, At: stamp(at), ByItself: e.ByItself}, true
}

// Entry makes the entry of an answer to the noise test.
func (a Answered) Entry() CheckEntry {
	e := CheckEntry{List: ListTriage, Item: Text(a.Topic), Answer: Text(a.Answer)}
	if a.Held.Known {
		e.AzimuthDeg, e.ElevationDeg = NumberOf(a.Held.AzimuthDeg), NumberOf(a.Held.ElevationDeg)
	}
	return e
}

// Entry makes the entry of what a noise test found.
func (f Finding) Entry() CheckEntry {
	return CheckEntry{List: ListTriage, Item: "finding", Answer: Text(f.Cause), Words: Text(f.Meaning + " " + f.Do)}
}

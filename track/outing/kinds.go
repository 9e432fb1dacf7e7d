package outing

import "encoding/json"

// Kind names what a record is about.
type Kind string

// The kinds of version 1.
const (
	KindStart    Kind = "start"
	KindFix      Kind = "fix"
	KindClock    Kind = "clock"
	KindFacing   Kind = "facing"
	KindElements Kind = "elements"
	KindPass     Kind = "pass"
	KindAdvice   Kind = "advice"
	KindHold     Kind = "hold"
	KindMark     Kind = "mark"
	KindSensor   Kind = "sensor"
	KindCheck    Kind = "check"
	KindWarning  Kind = "warning"
	KindCommand  Kind = "command"
	KindNote     Kind = "note"
	KindEnd      Kind = "end"
)

// kindRule is what reading and writing need to know of a kind.
type kindRule struct {
	kind   Kind
	decode func(line []byte) (Entry, error)
	// passing tells that the next record of the kind replaces it within
	// seconds: it is not synced by itself, and the first to go when something
	// must.
	passing bool
}

var kinds = [...]kindRule{
	{KindStart, decode[StartEntry], false},
	{KindFix, decode[FixEntry], true},
	{KindClock, decode[ClockEntry], true},
	{KindFacing, decode[FacingEntry], false},
	{KindElements, decode[ElementsEntry], false},
	{KindPass, decode[PassEntry], false},
	{KindAdvice, decode[AdviceEntry], true},
	{KindHold, decode[HoldEntry], false},
	{KindMark, decode[MarkEntry], false},
	{KindSensor, decode[SensorEntry], true},
	{KindCheck, decode[CheckEntry], false},
	{KindWarning, decode[WarningEntry], false},
	{KindCommand, decode[CommandEntry], false},
	{KindNote, decode[NoteEntry], false},
	{KindEnd, decode[EndEntry], false},
}

func decode[T Entry](line []byte) (Entry, error) {
	var entry T
	err := json.Unmarshal(line, &entry)
	return entry, err
}

// lookUp finds a kind's entry.
func lookUp(kind Kind) (kindRule, bool) {
	for _, k := range kinds {
		if k.kind == kind {
			return k, true
		}
	}
	return kindRule{}, false
}

// passing tells whether records of the kind replace each other within seconds.
func passing(kind Kind) bool {
	k, _ := lookUp(kind)
	return k.passing
}

// Opaque is a record that is kept but not understood: of a newer version, or of
// a kind that this version doesn't know. It can't be written.
type Opaque struct {
	Version int
	Name    Kind   // its kind, cleaned; may be empty
	Raw     string // the line as it was, for a program: never show it
}

// Kind returns the kind that the line names.
func (o Opaque) Kind() Kind { return o.Name }

func (Opaque) check() error { return nil }

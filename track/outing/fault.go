package outing

import "fmt"

// Reason is what is wrong with a line of a record.
type Reason string

// The reasons, as they are said to people.
const (
	Cut         Reason = "cut off"                     // written in part: a kill, a full disk, a loss of power
	Damaged     Reason = "damaged"                     // not a line of a record
	Edited      Reason = "edited or damaged"           // its checksum is not that of its text
	Newer       Reason = "written by a newer version"  // kept as an Opaque
	UnknownKind Reason = "of an unknown kind"          // kept as an Opaque
	Impossible  Reason = "not possible"                // a value out of its range
	TooLong     Reason = "too long"                    // longer than any line that is written
	NoStart     Reason = "the beginning is missing"    // the first record is no start
	Several     Reason = "a second outing begins here" // Read ends with it
	TooLarge    Reason = "too large"                   // Read ends with it
	Unreadable  Reason = "can't be read further"       // Read ends with it: see Err
)

// Fault is one fault of a record, with its place.
type Fault struct {
	File   string
	Line   int // counted from 1
	Reason Reason
	Detail string // printable; may be empty
	Advice string // the way out; may be empty
	Err    error  // what the reader said, for Unreadable
}

// Error returns one line: FILE:LINE: what is wrong, what was there.
func (f *Fault) Error() string {
	file := Clean(f.File)
	if file == "" {
		file = "record"
	}
	text := fmt.Sprintf("%s:%d: %s", file, f.Line, f.Reason)
	if f.Detail != "" {
		text += ": " + f.Detail
	}
	return text
}

// Hint returns the way out; empty where there is none.
func (f *Fault) Hint() string { return f.Advice }

// Unwrap returns the reader's error.
func (f *Fault) Unwrap() error { return f.Err }

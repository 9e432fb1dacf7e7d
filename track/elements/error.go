package elements

import (
	"fmt"
	"strings"

	"foreaim/track/internal/csvfile"
)

// Error is one fault of an element file: where it is, what is wrong, what was
// there and what would be right.
type Error struct {
	File         string // as handed to Read; may be empty
	Line, Column int    // counted from 1; columns are characters
	What         string // what is wrong
	Found        string // what was there; may be empty
	Want         string // what would be right; may be empty
	Advice       string // the way out; may be empty
	Err          error  // the reader's own error when the file can't be read on
}

// Error returns one line: FILE:LINE:COLUMN: what is wrong, what was there,
// what would be right.
func (e *Error) Error() string {
	file := e.File
	if file == "" {
		file = "elements"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: %s", csvfile.Clean(file, 1000), e.Line, e.Column, e.What)
	if e.Found != "" {
		fmt.Fprintf(&b, ", found %q", clip(e.Found, 40))
	}
	if e.Want != "" {
		fmt.Fprintf(&b, ", want %s", e.Want)
	}
	if e.Err != nil {
		fmt.Fprintf(&b, ": %s", csvfile.Clean(e.Err.Error(), 200))
	}
	return b.String()
}

// Hint returns the way out; empty where there is none.
func (e *Error) Hint() string { return e.Advice }

// Unwrap returns the reader's error, if that is what stopped the reading.
func (e *Error) Unwrap() error { return e.Err }

// Errors are the faults of one file, in the order of its lines.
type Errors struct {
	All  []*Error // at most maxErrors
	More int      // faults beyond those in All, only counted
}

// A file of the wrong kind may have a fault in each of its million lines;
// nobody reads more than these, and memory stays bounded.
const (
	maxErrors = 1000
	maxShown  = 5
)

// Error returns one line for each of the first few faults, then how many more
// there are.
func (e *Errors) Error() string {
	var b strings.Builder
	shown := e.All[:min(len(e.All), maxShown)]
	for i, one := range shown {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(one.Error())
	}
	if more := len(e.All) + e.More - len(shown); more > 0 {
		fmt.Fprintf(&b, "\nand %d more", more)
	}
	return b.String()
}

// Hint returns the first way out that a fault has; empty where none has one.
func (e *Errors) Hint() string {
	for _, one := range e.All {
		if one.Advice != "" {
			return one.Advice
		}
	}
	return ""
}

// Unwrap gives errors.Is and errors.As the single faults.
func (e *Errors) Unwrap() []error {
	all := make([]error, len(e.All))
	for i, one := range e.All {
		all[i] = one
	}
	return all
}

func (e *Errors) add(one *Error) {
	if len(e.All) == maxErrors {
		e.More++
		return
	}
	e.All = append(e.All, one)
}

// errOrNil keeps a nil pointer out of the error interface.
func (e *Errors) errOrNil() error {
	if len(e.All) == 0 {
		return nil
	}
	return e
}

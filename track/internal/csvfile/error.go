package csvfile

import "fmt"

// Error is what is wrong with a file, and where. All its texts are printable.
type Error struct {
	File         string
	Line, Column int // from 1; columns count bytes
	What         string
	Advice       string // the way out; may be empty
	Err          error  // of the reader, if that is what stopped the reading
}

// Error returns one line: FILE:LINE:COLUMN: what is wrong.
func (e *Error) Error() string {
	text := fmt.Sprintf("%s:%d:%d: %s", Clean(e.File, maxText), e.Line, e.Column, e.What)
	if e.Err != nil {
		text += ": " + Clean(e.Err.Error(), maxText)
	}
	return text
}

// Hint returns the way out; empty where there is none.
func (e *Error) Hint() string { return e.Advice }

// Unwrap returns the reader's error.
func (e *Error) Unwrap() error { return e.Err }

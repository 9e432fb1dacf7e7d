package store

import "fmt"

// Damage says that a file of the store is not as it was written. What else the
// store has can still be used.
type Damage struct {
	File  string
	Line  int // the first damaged one, counted from 1; 0: the whole file
	Lines int // how many are damaged
	Err   error
}

// Error returns one line.
func (d *Damage) Error() string {
	switch {
	case d.Line == 0:
		return fmt.Sprintf("%s: this file of the elements store can't be used: %v", d.File, d.Err)
	case d.Lines == 1:
		return fmt.Sprintf("%s:%d: a damaged line in the elements store: %v", d.File, d.Line, d.Err)
	}
	return fmt.Sprintf("%s:%d: the first of %d damaged lines in the elements store: %v", d.File, d.Line, d.Lines, d.Err)
}

// Hint returns the way out.
func (d *Damage) Hint() string {
	if d.Line == 0 {
		return "move the file away and import the elements of its objects again; the rest of the store is usable"
	}
	return "delete the line and import the elements again; the rest of the store is usable"
}

// Unwrap returns what is wrong.
func (d *Damage) Unwrap() error { return d.Err }

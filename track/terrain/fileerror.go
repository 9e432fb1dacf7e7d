package terrain

import (
	"fmt"
	"strings"
	"unicode"
)

// maxFound is how many characters of what was there an error shows.
const maxFound = 40

// FileError is what is wrong with a file, and where.
type FileError struct {
	File         string
	Line, Column int // from 1; columns count bytes
	What         string
	Advice       string // the way out; may be empty
	Err          error  // of the reader, if that is what stopped the reading
}

// Error returns one line: FILE:LINE:COLUMN: what is wrong.
func (e *FileError) Error() string {
	text := fmt.Sprintf("%s:%d:%d: %s", clean(e.File), e.Line, e.Column, e.What)
	if e.Err != nil {
		text += ": " + clean(e.Err.Error())
	}
	return text
}

// Hint returns the way out; empty where there is none.
func (e *FileError) Hint() string { return e.Advice }

// Unwrap returns the reader's error.
func (e *FileError) Unwrap() error { return e.Err }

// clean makes one printable line of a text from outside.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, text)
}

// found makes what was there fit for an error.
func found(cell string) string {
	cell = clean(cell)
	if runes := []rune(cell); len(runes) > maxFound {
		return string(runes[:maxFound]) + "..."
	}
	return cell
}

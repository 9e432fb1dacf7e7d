package gps

import (
	"errors"
	"strings"
	"unicode"
)

// ErrURL marks an error of Open that is a mistake in the URL, not a failure to
// open what it names.
var ErrURL = errors.New("not the URL of a source")

// Error tells what went wrong with a source, in one line, and the way out.
type Error struct {
	What  string // without control characters
	Hint  string // what to do about it; empty where there is nothing to say
	Cause error  // ErrURL, or the system's error
}

// Error gives the line without the hint.
func (e *Error) Error() string { return e.What }

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Cause }

// longestText is how many characters of other people's text are passed on.
const longestText = 200

// oneLine makes text from outside fit for a terminal: one line, no control
// characters, no bytes that aren't text, of bounded length.
func oneLine(text string) string {
	var b strings.Builder
	n := 0
	for _, r := range text {
		if !unicode.IsPrint(r) {
			r = ' '
		}
		if n++; n > longestText {
			b.WriteString("...")
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}

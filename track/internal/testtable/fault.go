package testtable

import (
	"errors"
	"strings"
	"testing"
	"unicode"

	"foreaim/track/internal/csvfile"
)

// Fault fails the test unless what a reader of tables refuses a text with tells a
// place in that text, and can be shown as it is, its way out too.
func Fault(t testing.TB, text string, err error) {
	t.Helper()
	fault, ok := errors.AsType[*csvfile.Error](err)
	if !ok {
		t.Fatalf("%T %v, want a fault with its place", err, err)
	}
	lines := strings.Split(text, "\n")
	if fault.Line < 1 || fault.Line > len(lines)+1 || fault.Column < 1 {
		t.Errorf("%v: no such place in %q", err, text)
	} else if fault.Line <= len(lines) && fault.Column > len(lines[fault.Line-1])+2 { // an open quote's is behind the line's end
		t.Errorf("%v: no such column in %q", err, lines[fault.Line-1])
	}
	if !Printable(err.Error()) || !Printable(fault.Hint()) {
		t.Errorf("%q, %q", err, fault.Hint())
	}
}

// Printable tells whether a text does nothing but be shown.
func Printable(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) })
}

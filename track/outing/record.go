package outing

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"
)

// Version is the version of the lines that this package writes, and the newest
// that it understands.
const Version = 1

// Record is one line of the record: a JSON object whose first members are v, at
// and kind, then those of its entry, then sum, with nothing between them:
//
//	{"v":1,"at":"2026-03-25T09:30:00.000Z","kind":"note","text":"…","sum":"…"}
//
// The sum is the first 16 hexadecimal digits of the SHA-256 of the line's bytes
// before `,"sum"`, so that a shell can check a line with
//
//	printf %s "${line%,\"sum\":*}" | sha256sum | cut -c1-16
//
// It finds damage and slips of an editor; it is no seal against forgery.
type Record struct {
	// At is when it happened, by the clock that the program went by then: the
	// computer's, corrected by the last Clock record. Kept to milliseconds.
	At    time.Time
	Entry Entry
	Line  int // where it was read, counted from 1; 0 when it wasn't
}

// Entry is what a record says: one of the types of this package named after the
// kinds, or an Opaque. All of them can be compared with ==.
type Entry interface {
	Kind() Kind
	// check names the first value that is out of its range.
	check() error
}

// timeLayout is RFC 3339 in UTC with milliseconds.
const timeLayout = "2006-01-02T15:04:05.000Z"

// sumMark begins the last member of a line. The sum covers the bytes before it.
const sumMark = `,"sum":"`

const (
	sumDigits = 16
	tailBytes = len(sumMark) + sumDigits + len(`"}`)
)

// sum returns the checksum of the bytes before sumMark: the first 16 hexadecimal
// digits, in lower case, of their SHA-256.
func sum(head []byte) string {
	h := sha256.Sum256(head)
	return hex.EncodeToString(h[:sumDigits/2])
}

// encode returns the line of a record with its newline.
func encode(r Record) ([]byte, error) {
	if r.Entry == nil {
		return nil, fmt.Errorf("a record without an entry")
	}
	kind := r.Entry.Kind()
	_, known := lookUp(kind)
	if _, opaque := r.Entry.(Opaque); opaque || !known {
		return nil, fmt.Errorf("a record of kind %q is not understood and can't be written", Clean(string(kind)))
	}
	at := stamp(r.At)
	if r.At.IsZero() || !printable(at) {
		return nil, fmt.Errorf("a %s record needs its time, with a year from 1 to 9999", kind)
	}
	if err := r.Entry.check(); err != nil {
		return nil, fmt.Errorf("%s record: %w", kind, err)
	}
	line := bytes.NewBuffer(make([]byte, 0, 512))
	fmt.Fprintf(line, `{"v":%d,"at":"%s","kind":"%s"`, Version, at.Format(timeLayout), kind)
	start := line.Len()
	encoder := json.NewEncoder(line)
	encoder.SetEscapeHTML(false) // a log is read by people too
	if err := encoder.Encode(r.Entry); err != nil {
		return nil, fmt.Errorf("%s record: %w", kind, err)
	}
	b := bytes.TrimSuffix(line.Bytes(), []byte("}\n"))
	if len(b) == start+1 { // no members
		b = b[:start]
	} else {
		b[start] = ','
	}
	digits := sum(b)
	b = append(b, sumMark...)
	b = append(b, digits...)
	return append(b, "\"}\n"...), nil
}

// printable tells whether a time can be written with four digits of year.
func printable(t time.Time) bool { return t.Year() >= 1 && t.Year() <= 9999 }

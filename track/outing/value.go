package outing

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"foreaim/track/internal/csvfile"
)

// Number is a value that may be unknown. An unknown one is left out of its
// line, so that NaN and infinities are never written; the zero Number is one.
type Number struct {
	Value float64
	Known bool
}

// NumberOf returns a known number; NaN and infinities become the unknown one.
func NumberOf(value float64) Number {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return Number{}
	}
	return Number{value, true}
}

// IsZero tells the encoder to leave the member out.
func (n Number) IsZero() bool { return NumberOf(n.Value) == Number{} || !n.Known }

// MarshalJSON writes the shortest digits that give the same value again.
func (n Number) MarshalJSON() ([]byte, error) { return json.Marshal(n.Value) }

// UnmarshalJSON reads a number, or null as unknown.
func (n *Number) UnmarshalJSON(b []byte) error {
	*n = Number{}
	if string(b) == "null" {
		return nil
	}
	v, err := strconv.ParseFloat(string(b), 64) // b is valid JSON: a number, if it parses
	if err != nil {
		return fmt.Errorf("%s is not a number that can be", shorten(string(b)))
	}
	*n = NumberOf(v)
	return nil
}

// within names a known number that is not from low to high.
func (n Number) within(name string, low, high float64) error {
	if !n.IsZero() && (n.Value < low || n.Value > high) {
		return fmt.Errorf("%s %v is outside %v to %v", name, n.Value, low, high)
	}
	return nil
}

// Time is a time in a record: UTC to the millisecond. The zero Time is left
// out of its line.
type Time struct{ time.Time }

// TimeOf returns t in UTC, rounded to milliseconds; the zero Time for one whose
// year has not four digits.
func TimeOf(t time.Time) Time {
	t = stamp(t)
	if t.IsZero() || !printable(t) {
		return Time{}
	}
	return Time{t}
}

// IsZero tells the encoder to leave the member out.
func (t Time) IsZero() bool { return TimeOf(t.Time).Time.IsZero() }

// MarshalJSON writes RFC 3339 in UTC with milliseconds.
func (t Time) MarshalJSON() ([]byte, error) {
	return json.Marshal(TimeOf(t.Time).Format(timeLayout))
}

// UnmarshalJSON reads RFC 3339.
func (t *Time) UnmarshalJSON(b []byte) error {
	var read time.Time
	if err := json.Unmarshal(b, &read); err != nil {
		return err
	}
	*t = TimeOf(read)
	return nil
}

// Text is text from outside. It is cleaned when it is written and again when
// it is read: see Clean.
type Text string

// maxText is the longest text kept, in characters.
const maxText = 2000

// MarshalJSON writes the cleaned text.
func (t Text) MarshalJSON() ([]byte, error) {
	var b strings.Builder
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(Clean(string(t)))
	return []byte(b.String()), err
}

// UnmarshalJSON reads a string and cleans it.
func (t *Text) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return err
	}
	*t = Text(Clean(s))
	return nil
}

// Clean makes text safe to show on one line: control and format characters
// (escape sequences' ESC, the C1 range, turned writing direction) and bytes
// that are not UTF-8 are dropped, every kind of blank and line end becomes a
// space, blanks at the ends go, and 2000 characters are kept.
func Clean(text string) string { return csvfile.Clean(text, maxText) }

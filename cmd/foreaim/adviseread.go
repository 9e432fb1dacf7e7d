package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"foreaim/track/aim"
)

// observationFields are what a line of observations may hold; the first two are
// needed.
var observationFields = []string{"time", "kind", "frequency_hz", "strength", "azimuth_deg", "elevation_deg"}

// lineFault is what is wrong with a line, and at which byte of it, from 1.
type lineFault struct {
	column int
	what   string
	hint   string // may be empty
}

func (f *lineFault) Error() string { return fmt.Sprintf("%d: %s", f.column, f.what) }

// readObservation reads one line. The error is a *lineFault.
func readObservation(line []byte) (o aim.Observation, err error) {
	fields, err := readFields(line)
	if err != nil {
		return o, err
	}
	o.Time = fields.time("time")
	o.Kind = aim.Kind(fields.word("kind", string(aim.Heard), string(aim.Silent), string(aim.NotListening), string(aim.NoiseUp), string(aim.NoiseNormal)))
	if fields.has("strength") {
		o.Strength = aim.Strength(fields.word("strength", string(aim.Weak), string(aim.Good), string(aim.Strong)))
	}
	if fields.has("frequency_hz") {
		o.FrequencyHz = fields.number("frequency_hz", 1, 1e12)
	}
	if fields.has("azimuth_deg") || fields.has("elevation_deg") {
		o.Held = &aim.Direction{
			AzimuthDeg:   fields.number("azimuth_deg", 0, 360),
			ElevationDeg: fields.number("elevation_deg", -90, 90),
		}
	}
	if fields.fault != nil {
		return aim.Observation{}, fields.fault
	}
	return o, nil
}

// fieldsOfLine are the values of a JSON object and where they stand. The first
// that is wrong is kept as its fault.
type fieldsOfLine struct {
	values map[string]json.RawMessage
	column map[string]int // of the value
	fault  *lineFault
}

// readFields takes a line apart. null is as good as left out.
func readFields(line []byte) (*fieldsOfLine, error) {
	f := &fieldsOfLine{values: map[string]json.RawMessage{}, column: map[string]int{}}
	d := json.NewDecoder(bytes.NewReader(line))
	next := func() int { // the column of what comes next
		i := int(d.InputOffset())
		return i + len(line[i:]) - len(bytes.TrimLeft(line[i:], " \t\r\n,:")) + 1
	}
	bad := func(err error) error {
		column := min(next(), len(line)+1)
		var syntax *json.SyntaxError
		switch {
		case errors.As(err, &syntax):
			return &lineFault{column, "not JSON: " + plain(syntax.Error()), observationHint}
		case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
			return &lineFault{len(line) + 1, "the line ends in the middle of a JSON object", observationHint}
		}
		return &lineFault{column, plain(err.Error()), observationHint}
	}
	start := next()
	if open, err := d.Token(); err != nil {
		return nil, bad(err)
	} else if open != json.Delim('{') {
		return nil, &lineFault{start, fmt.Sprintf("%s is not a JSON object", shown(line)), observationHint}
	}
	for d.More() {
		at := next()
		token, err := d.Token()
		if err != nil {
			return nil, bad(err)
		}
		key, _ := token.(string) // the decoder takes nothing else for a key
		if !slices.Contains(observationFields, key) {
			return nil, &lineFault{at, "unknown field " + shown([]byte(key)), "the fields are " + strings.Join(observationFields, ", ")}
		}
		if _, twice := f.column[key]; twice {
			return nil, &lineFault{at, key + " is given twice", ""}
		}
		f.column[key] = next()
		var value json.RawMessage
		if err := d.Decode(&value); err != nil {
			return nil, bad(err)
		}
		if string(value) != "null" {
			f.values[key] = value
		}
	}
	if _, err := d.Token(); err != nil { // the closing brace
		return nil, bad(err)
	}
	if at := next(); at <= len(line) {
		return nil, &lineFault{at, "something follows the JSON object", "one observation a line"}
	}
	return f, nil
}

const observationHint = `an observation looks like {"time":"2026-11-25T20:12:10.600Z","kind":"heard"}`

func (f *fieldsOfLine) has(field string) bool { return f.values[field] != nil }

// fail keeps the first fault.
func (f *fieldsOfLine) fail(field, want string) {
	if f.fault != nil {
		return
	}
	if raw := f.values[field]; raw != nil {
		f.fault = &lineFault{f.column[field], fmt.Sprintf("%s is %s, want %s", field, shown(raw), want), ""}
		return
	}
	f.fault = &lineFault{1, field + " is missing: give " + want, observationHint}
}

func (f *fieldsOfLine) text(field string) (text string, ok bool) {
	ok = f.has(field) && json.Unmarshal(f.values[field], &text) == nil
	return text, ok
}

func (f *fieldsOfLine) time(field string) time.Time {
	text, _ := f.text(field)
	at, err := time.Parse(time.RFC3339, text)
	if err != nil || at.UTC().Year() < firstYear || at.UTC().Year() > lastYear {
		f.fail(field, "a time such as 2026-11-25T20:12:10.600Z")
	}
	return at.UTC()
}

func (f *fieldsOfLine) word(field string, words ...string) string {
	text, _ := f.text(field)
	if !slices.Contains(words, text) {
		f.fail(field, "one of "+strings.Join(words, ", "))
	}
	return text
}

func (f *fieldsOfLine) number(field string, low, high float64) float64 {
	var x float64
	if !f.has(field) || json.Unmarshal(f.values[field], &x) != nil || !(x >= low && x <= high) {
		f.fail(field, fmt.Sprintf("a number from %v to %v", low, high))
	}
	return x
}

// shown makes a piece of a line fit for a message: what it would do to a
// terminal is gone, and it isn't long.
func shown(raw []byte) string {
	const most = 60
	text := []rune(plain(strings.Trim(string(raw), `"`)))
	if len(text) > most {
		return fmt.Sprintf("%q…", string(text[:most]))
	}
	return fmt.Sprintf("%q", string(text))
}

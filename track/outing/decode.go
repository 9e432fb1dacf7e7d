package outing

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// header is what every line has, of whatever version.
type header struct {
	Version int       `json:"v"`
	At      time.Time `json:"at"`
	Kind    Kind      `json:"kind"`
}

// decode reads a line without its newline. Both results may be set: a record
// that is kept, and why it isn't understood.
func (s *scan) decode(line []byte) (Record, *Fault) {
	var h header
	headErr := json.Unmarshal(line, &h)
	if h.Version > Version && json.Valid(line) {
		// How a newer version sums is its own affair.
		fault := s.fault(Newer, fmt.Sprintf("version %d, this program reads %d: kept, but not understood", h.Version, Version))
		fault.Advice = "a newer Foreaim reads this record"
		return s.opaque(h, line), fault
	}
	if fault := s.checkSum(line); fault != nil {
		return Record{}, fault
	}
	switch {
	case headErr != nil:
		return Record{}, s.fault(Damaged, problem(headErr))
	case h.Version != Version:
		return Record{}, s.fault(Damaged, fmt.Sprintf("version %d, want %d", h.Version, Version))
	case h.At.IsZero() || !printable(stamp(h.At)):
		return Record{}, s.fault(Damaged, "it has no time, or one outside the years 1 to 9999")
	}
	rule, known := lookUp(h.Kind)
	if !known {
		return s.opaque(h, line), s.fault(UnknownKind, fmt.Sprintf("%q: kept, but not understood", shorten(string(h.Kind))))
	}
	entry, err := rule.decode(line)
	if err != nil {
		return Record{}, s.fault(Damaged, problem(err))
	}
	if err := entry.check(); err != nil {
		return Record{}, s.fault(Impossible, fmt.Sprintf("%s record: %s", h.Kind, shorten(err.Error())))
	}
	return Record{At: stamp(h.At), Entry: entry, Line: s.line}, nil
}

func (s *scan) opaque(h header, line []byte) Record {
	return Record{At: stamp(h.At), Entry: Opaque{h.Version, Kind(shorten(string(h.Kind))), string(line)}, Line: s.line}
}

// checkSum tells whether a line's text is that which was written.
func (s *scan) checkSum(line []byte) *Fault {
	head := len(line) - tailBytes
	if head < 0 || !bytes.HasPrefix(line[head:], []byte(sumMark)) || !bytes.HasSuffix(line, []byte(`"}`)) {
		if !bytes.HasSuffix(line, []byte("}")) && line[0] == '{' {
			return s.fault(Cut, "a part of a record, recording was interrupted here")
		}
		return s.fault(Damaged, fmt.Sprintf("it doesn't end in a checksum, want %s and %d digits", sumMark, sumDigits))
	}
	got, want := string(line[head+len(sumMark):len(line)-len(`"}`)]), sum(line[:head])
	if got != want {
		return s.fault(Edited, fmt.Sprintf("its checksum is %q, that of its text %q", shorten(got), want))
	}
	return nil
}

// problem says what a JSON error is about, without naming Go types.
func problem(err error) string {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return fmt.Sprintf("%q has the wrong type: a %s", shorten(kind.Field), shorten(kind.Value))
	}
	return shorten(err.Error())
}

// shorten makes text from a damaged line fit for a message.
func shorten(text string) string {
	const limit = 60
	text = Clean(text)
	if r := []rune(text); len(r) > limit {
		return string(r[:limit]) + "..."
	}
	return text
}

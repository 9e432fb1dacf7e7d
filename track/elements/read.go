package elements

import (
	"bytes"
	"io"
	"iter"
)

// Read reads all element sets of one file. It finds the kind from the content:
// two- and three-line sets, or OMM in JSON, XML, CSV or KVN, packed by gzip or
// not. file is the name for messages.
//
// One bad set does not hide the good ones: Read returns every good set, in the
// file's order, together with an error that is an *Errors holding an *Error
// for each fault. A file without any set is an error too.
//
// A file cut short is told, but not where KVN, CSV or TLE end with a whole set:
// these have no closing mark. No number that SGP4 needs is ever a cut one.
func Read(r io.Reader, file string) ([]Set, error) {
	var sets []Set
	for s, err := range Scan(r, file) {
		if err != nil {
			return sets, err
		}
		sets = append(sets, s)
	}
	return sets, nil
}

// Scan reads the sets of one file one by one, as Read does, and keeps none of
// them. Each good set comes with a nil error; the error, an *Errors with all
// faults, comes once and last, with the zero Set. Leaving the loop ends the
// reading. It can be ranged over once.
func Scan(r io.Reader, file string) iter.Seq2[Set, error] {
	return func(yield func(Set, error) bool) {
		src := newSource(nil, file, func(s Set) bool { return yield(s, nil) })
		src.in = src.unpacked(r)
		src.read()
		if err := src.faults.errOrNil(); err != nil && !src.done {
			yield(Set{}, err)
		}
	}
}

func (s *source) read() {
	if bytes.Equal(s.head(3), []byte("\xef\xbb\xbf")) {
		s.at, s.counted = s.at+3, s.at+3 // byte order mark
	}
	some := false
	if _, some = s.skipBlanks(); some {
		given := 0
		take := s.take
		s.take = func(set Set) bool { given++; return take(set) }
		readerFor(s.head(maxLine))(s)
		some = given > 0
	}
	if s.err != nil && s.err != io.EOF {
		line, column := s.place()
		s.faults.add(&Error{File: s.file, Line: line, Column: column, What: "the file can't be read on", Err: s.err})
	}
	if !some && len(s.faults.All) == 0 {
		s.fault(Error{
			Line: 1, Column: 1, What: "no element sets in the file",
			Advice: "fetch the elements again: the source may have had none for this object",
		})
	}
}

// readerFor chooses by the first bytes after blanks. A further encoding is one
// more line here.
func readerFor(head []byte) func(*source) {
	for _, kind := range []struct {
		is   func(head []byte) bool
		read func(*source)
	}{
		{isForeign, refuse},
		{isJSON, readJSON},
		{isXML, readXML},
		{isKVN, readKVN},
		{isCSV, readCSV},
	} {
		if kind.is(head) {
			return kind.read
		}
	}
	return readTLE
}

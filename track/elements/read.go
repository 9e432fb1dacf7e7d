package elements

import (
	"bufio"
	"bytes"
	"io"
)

// Read reads all element sets of one file. It finds the kind from the content:
// two- and three-line sets, or OMM in JSON. file is the name for messages.
//
// One bad set does not hide the good ones: Read returns every good set, in the
// file's order, together with an error that is an *Errors holding an *Error
// for each fault. A file without any set is an error too.
func Read(r io.Reader, file string) ([]Set, error) {
	src := &source{r: bufio.NewReaderSize(r, maxLine), file: file, line: 1, column: 1}
	if head, _ := src.r.Peek(3); bytes.Equal(head, []byte("\xef\xbb\xbf")) {
		src.r.Discard(3) // byte order mark
	}
	_, some := src.skipBlanks()
	head, _ := src.r.Peek(512)
	var sets []Set
	if some {
		sets = readerFor(head)(src)
	}
	if src.err != nil && src.err != io.EOF {
		src.fault(Error{Line: src.line, Column: src.column, What: "the file can't be read on", Err: src.err})
	}
	if len(sets) == 0 && len(src.faults.All) == 0 {
		src.fault(Error{
			Line: 1, Column: 1, What: "no element sets in the file",
			Advice: "fetch the elements again: the source may have had none for this object",
		})
	}
	return sets, src.faults.errOrNil()
}

// readerFor chooses by the first bytes after blanks. A further encoding is one
// more line here.
func readerFor(head []byte) func(*source) []Set {
	for _, kind := range []struct {
		is   func(head []byte) bool
		read func(*source) []Set
	}{
		{isJSON, readJSON},
		{isForeign, refuse},
	} {
		if kind.is(head) {
			return kind.read
		}
	}
	return readTLE
}

// maxLine is the longest line of element text, in bytes, and the read buffer.
const maxLine = 4096

// source is a file being read: where it stands and what was wrong so far.
type source struct {
	r            *bufio.Reader
	file         string
	line, column int   // of the next byte, from 1; columns are characters
	err          error // what ended the reading, io.EOF included
	faults       Errors
}

// fault notes a fault of this file.
func (s *source) fault(e Error) {
	e.File = s.file
	s.faults.add(&e)
}

// next reads one byte; false at the end.
func (s *source) next() (byte, bool) {
	c, err := s.r.ReadByte()
	if err != nil {
		s.err = err
		return 0, false
	}
	switch {
	case c == '\n':
		s.line++
		s.column = 1
	case c&0xc0 != 0x80: // not inside a UTF-8 sequence
		s.column++
	}
	return c, true
}

// peek returns the next byte without reading it; false at the end.
func (s *source) peek() (byte, bool) {
	c, err := s.r.ReadByte()
	if err != nil {
		s.err = err
		return 0, false
	}
	s.r.UnreadByte()
	return c, true
}

// skipBlanks reads over blanks and line ends and returns the byte after them,
// not yet read; false at the end.
func (s *source) skipBlanks() (byte, bool) {
	for {
		c, ok := s.peek()
		if !ok || !isBlank(c) {
			return c, ok
		}
		s.next()
	}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

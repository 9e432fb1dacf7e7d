package elements

import (
	"bytes"
	"io"
)

const (
	maxLine = 4096    // longest line of element text, in bytes
	bufSize = 1 << 16 // what is read at once
)

// source is a file being read: where it stands and what was wrong so far.
// Lines and columns are counted in one go when somebody asks for the place,
// which is far cheaper than with each byte.
type source struct {
	in   io.Reader
	file string
	take func(Set) bool // gets each good set; false ends the reading

	buf          []byte
	at, end      int // buf[at:end] is not read yet
	counted      int // buf[:counted] is in line and column
	line, column int // of buf[counted], from 1; columns are characters

	unended bool  // the last line had no line end
	done    bool  // nobody wants more
	err     error // what ended the reading, io.EOF included
	faults  Errors
}

func newSource(in io.Reader, file string, take func(Set) bool) *source {
	return &source{in: in, file: file, take: take, buf: make([]byte, bufSize), line: 1, column: 1}
}

// fault notes a fault of this file. When the reader itself has failed, what is
// missing after that place is no further fault.
func (s *source) fault(e Error) {
	if s.done || s.err != nil && s.err != io.EOF {
		return
	}
	e.File = s.file
	s.faults.add(&e)
}

// give hands a good set on.
func (s *source) give(set Set) {
	if s.done || s.take(set) {
		return
	}
	s.done, s.err = true, io.EOF
	s.at, s.counted = s.end, s.end
}

// place returns the line and column of the next byte, from 1.
func (s *source) place() (line, column int) {
	passed := s.buf[s.counted:s.at]
	s.counted = s.at
	if last := bytes.LastIndexByte(passed, '\n'); last >= 0 {
		s.line += bytes.Count(passed, []byte("\n"))
		s.column = 1
		passed = passed[last+1:]
	}
	for _, c := range passed {
		if c&0xc0 != 0x80 { // not inside a UTF-8 sequence
			s.column++
		}
	}
	return s.line, s.column
}

// fill reads more behind what is not read yet; false if there is no more, or
// no room.
func (s *source) fill() bool {
	if s.err != nil {
		return false
	}
	s.place()
	copy(s.buf, s.buf[s.at:s.end])
	s.end -= s.at
	s.at, s.counted = 0, 0
	if s.end == len(s.buf) {
		return false
	}
	const patience = 100 // empty reads
	for range patience {
		n, err := s.in.Read(s.buf[s.end:])
		s.end += n
		if err != nil {
			s.err = err
		}
		if n > 0 || err != nil {
			return n > 0
		}
	}
	s.err = io.ErrNoProgress
	return false
}

// head returns the next n bytes without reading them, fewer at the end.
func (s *source) head(n int) []byte {
	for s.end-s.at < n && s.fill() {
	}
	return s.buf[s.at:min(s.end, s.at+n)]
}

// peek returns the next byte without reading it; false at the end.
func (s *source) peek() (byte, bool) {
	if s.at == s.end && !s.fill() {
		return 0, false
	}
	return s.buf[s.at], true
}

// next reads one byte; false at the end.
func (s *source) next() (byte, bool) {
	if s.at == s.end && !s.fill() {
		return 0, false
	}
	c := s.buf[s.at]
	s.at++
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
		s.at++
	}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// stops are the bytes that end a run.
type stops [256]bool

func stopsAt(bytes string) *stops {
	var s stops
	for i := range len(bytes) {
		s[bytes[i]] = true
	}
	return &s
}

// until reads up to a byte of stops, or the end, and appends it to b, of which
// it lets no more than limit bytes come.
func (s *source) until(ends *stops, b []byte, limit int) (text []byte, cut bool) {
	for s.at < s.end || s.fill() {
		chunk := s.buf[s.at:s.end]
		n := 0
		for n < len(chunk) && !ends[chunk[n]] {
			n++
		}
		s.at += n
		keep := max(0, min(n, limit-len(b)))
		b = append(b, chunk[:keep]...)
		cut = cut || keep < n
		if n < len(chunk) {
			break
		}
	}
	return b, cut
}

// row reads a line and returns it without its line feed; the bytes are good
// until the next reading. One that is too long is read over.
func (s *source) row() (text []byte, long, ok bool) {
	searched := 0
	for {
		rest := s.buf[s.at:s.end]
		if i := bytes.IndexByte(rest[searched:], '\n'); i >= 0 {
			text = rest[:searched+i]
			s.at += len(text) + 1
			break
		}
		searched = len(rest)
		if searched > maxLine {
			s.at, searched, long = s.end, 0, true
		}
		if !s.fill() {
			text = s.buf[s.at:s.end]
			s.at = s.end
			if len(text) == 0 && !long {
				return nil, false, false
			}
			s.unended = true
			break
		}
	}
	if long || len(text) > maxLine {
		return nil, true, true
	}
	return text, false, true
}

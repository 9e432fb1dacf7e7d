package gps

import "time"

const (
	// maxLine is the longest line kept, in bytes. The standard allows 82;
	// makers' own sentences reach about 200 (common practice, no source).
	maxLine = 256
	// promptBytes is the most that a port read without delay hands over at
	// once: one packet of a USB adapter holds 64 bytes. A larger chunk was held
	// up somewhere, and the line's speed tells nothing about when it began.
	promptBytes = 64
)

// splitter cuts a stream of bytes into lines, wherever the stream was cut into
// chunks. A '$' or '!' begins a new line, so that noise or a sentence lost half
// way costs nothing of the next one. NULs are dropped. Its zero value is ready.
type splitter struct {
	line     []byte
	first    time.Time // when the line's first byte arrived
	overlong bool      // the rest of the line is being skipped
}

// feed takes the bytes of one read, the computer's clock when the read
// returned, and the line's speed in bit/s (0 when there is no serial line). It
// calls yield for each line that is complete, without its line end; the line is
// overwritten after yield returns. A line too long is yielded once, cut.
//
// The chunk's last byte arrived when the read returned. Each byte before it
// took 10 bits on the wire, which is taken off for as many bytes as a port read
// promptly holds.
func (s *splitter) feed(chunk []byte, arrived time.Time, baud int, yield func(line []byte, firstByte time.Time)) {
	for i, b := range chunk {
		switch b {
		case 0:
			continue
		case '\r', '\n':
			s.flush(yield)
			continue
		case '$', '!':
			s.flush(yield)
		}
		if s.overlong {
			continue
		}
		if len(s.line) == 0 {
			s.first = arrived.Add(-wireTime(min(len(chunk)-1-i, promptBytes), baud))
		}
		s.line = append(s.line, b)
		if len(s.line) == maxLine {
			s.flush(yield)
			s.overlong = true
		}
	}
}

// flush hands over what the line holds and begins the next.
func (s *splitter) flush(yield func(line []byte, firstByte time.Time)) {
	if len(s.line) > 0 {
		yield(s.line, s.first)
	}
	s.line, s.overlong = s.line[:0], false
}

// wireTime is how long n bytes take on a serial line: a start bit, eight bits
// and a stop bit each.
func wireTime(n, baud int) time.Duration {
	if baud <= 0 {
		return 0
	}
	return time.Duration(n) * 10 * time.Second / time.Duration(baud)
}

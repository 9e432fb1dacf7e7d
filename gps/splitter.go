package gps

import "time"

// maxLine is the longest line kept, in bytes.
const maxLine = 512

// splitter cuts a stream of bytes into lines. Its zero value is ready.
type splitter struct{}

func (s *splitter) feed(chunk []byte, arrived time.Time, baud int, yield func(line []byte, firstByte time.Time)) {
}

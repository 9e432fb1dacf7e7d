package gps

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"
)

// longestGap is the longest silence of a recording that is replayed as it was.
// A longer one is a cut in the recording and lasts one step.
const (
	longestGap = time.Minute
	step       = time.Second
)

// replaySource is a file of NMEA lines, paced by the UTC in them.
type replaySource struct{ at address }

func (s replaySource) open(context.Context) (way, error) {
	file, err := os.Open(s.at.path)
	if err == nil {
		var info os.FileInfo
		if info, err = file.Stat(); err == nil && info.IsDir() {
			err = errors.New("is a folder")
		}
	}
	if err != nil {
		if path := (*os.PathError)(nil); errors.As(err, &path) {
			err = path.Err
		}
		return nil, &Error{
			What: oneLine(fmt.Sprintf("open %s: %v", s.at.path, err)), Cause: err,
			Hint: "give the path of a file with NMEA lines, file:///PATH.nmea, or file:NAME.nmea in this folder",
		}
	}
	return &replay{File: file, rate: s.at.rate}, nil
}

// replay is a recording being played.
type replay struct {
	*os.File
	rate float64 // 0: no waiting
}

func (r *replay) listen(ctx context.Context, h *hub) error {
	buf := make([]byte, 4096)
	var lines splitter
	pace := tempo{reader: newReader()}
	play := func(line []byte, _ time.Time) {
		if r.rate > 0 && ctx.Err() == nil {
			if gap := pace.gap(line); gap > 0 {
				sleep(ctx, time.Duration(float64(gap)/r.rate))
			}
		}
		if ctx.Err() == nil {
			h.line(line, h.arrived(), 0)
		}
	}
	for ctx.Err() == nil {
		n, err := r.Read(buf)
		lines.feed(buf[:n], h.now(), 0, play)
		if err != nil {
			lines.feed([]byte{'\n'}, h.now(), 0, play)
			if !errors.Is(err, io.EOF) {
				h.trouble(fmt.Sprintf("%s: %v", r.Name(), err))
			}
			break
		}
	}
	h.end()
	return nil
}

// tempo measures the time between lines by the time of day in them.
type tempo struct {
	reader *reader
	last   time.Duration // since midnight UTC
	begun  bool
}

// gap gives the time from the line before to this one: 0 where the line has no
// time, or one that goes backwards.
func (t *tempo) gap(line []byte) time.Duration {
	s, err := t.reader.read(line)
	if err != nil || !s.timeKnown {
		return 0
	}
	gap := s.timeOfDay - t.last
	if gap < -12*time.Hour {
		gap += 24 * time.Hour // past midnight
	}
	first := !t.begun
	t.last, t.begun = s.timeOfDay, true
	switch {
	case first, gap < 0:
		return 0
	case gap > longestGap:
		return step
	}
	return gap
}

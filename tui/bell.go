package tui

import (
	"io"
	"os"
	"sync"
	"time"

	"foreaim/track/aim"
)

// ringer is the program's output with a bell. The screen's own writer sends
// whole pictures, each in one write, so a bell between two writes never falls
// into the middle of an escape sequence.
type ringer interface {
	io.Writer
	ring()
}

// terminal is the real output. It stays a file so that the screen library can
// ask for its size; the methods of the file that write are all taken over.
type terminal struct {
	*os.File
	mu sync.Mutex
}

func (t *terminal) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.File.Write(p)
}

// WriteString keeps io.WriteString from going round the lock.
func (t *terminal) WriteString(s string) (int, error) { return t.Write([]byte(s)) }

// ring sounds the terminal's bell. A terminal that is gone can't be told
// anything, so the error is dropped.
func (t *terminal) ring() { _, _ = t.Write([]byte{'\a'}) }

// bells are the moments at which the bell is still to ring, by the computer's
// clock.
type bells []time.Time

// lateBell is how late the bell may ring: a pattern with a hole in it would say
// something else.
const lateBell = time.Second

// begin begins the pattern of some tones in place of what is left of another.
func (b *bells) begin(now time.Time, tones []aim.Tone) {
	*b = nil
	for _, after := range aim.Bells(tones...) {
		*b = append(*b, now.Add(after))
	}
}

// ring rings the bell if it is due, once.
func (b *bells) ring(now time.Time, bell ringer) {
	if len(*b) == 0 || now.Before((*b)[0]) {
		return
	}
	if late := now.Sub((*b)[0]); late > lateBell {
		*b = nil
		return
	}
	*b = (*b)[1:]
	if bell != nil {
		bell.ring()
	}
}

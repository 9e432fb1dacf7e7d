package tui

import (
	"io"
	"os"
	"sync"
	"time"
)

// bellAhead is how long before a burst the first bell rings; the second rings
// as it begins.
const bellAhead = 5 * time.Second

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

// bellDue tells whether a bell is due for a burst between two frames. A jump of
// the clock rings nothing.
func bellDue(before, now, burst time.Time) bool {
	if step := now.Sub(before); step <= 0 || step > time.Second {
		return false
	}
	for _, at := range [...]time.Time{burst.Add(-bellAhead), burst} {
		if before.Before(at) && !now.Before(at) {
			return true
		}
	}
	return false
}

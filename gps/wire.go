package gps

import "time"

const (
	bitsPerByte = 10 // with the start and the stop bit
	// wholeChunk is the time on the wire from which a chunk read at once can't
	// have come over a real line: a port hands its bytes over in small pieces.
	wholeChunk = 100 * time.Millisecond
	// wireMemory is how many bytes the judgement rests on.
	wireMemory = 2000
)

// wire tells whether a port's speed is real. Receivers with a USB port of their
// own, and pseudo-terminals, take any speed and hand over many bytes at once;
// there the speed says nothing about how long a sentence was under way.
type wire struct{ whole, all int }

// speed takes note of a chunk of n bytes and gives the speed to reckon with: 0
// for a line without one.
func (w *wire) speed(n, baud int) int {
	w.all += n
	if time.Duration(n*bitsPerByte)*time.Second/time.Duration(baud) > wholeChunk {
		w.whole += n
	}
	if w.all > wireMemory {
		w.all, w.whole = w.all/2, w.whole/2
	}
	if 2*w.whole > w.all {
		return 0
	}
	return baud
}

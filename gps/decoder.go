package gps

import "time"

// decoder turns lines into what is known. It is not safe for concurrent use.
type decoder struct{}

func newDecoder(options Options) *decoder { return &decoder{} }

// line takes one raw line, without its line end, perhaps garbage or half a
// sentence; the computer's clock when its first byte arrived; and the line's
// speed in bit/s, 0 when there is no serial line. It tells whether the report
// has changed.
func (d *decoder) line(raw []byte, firstByte time.Time, baud int) (changed bool) { return false }

// fix takes a fix that a source decoded itself. leapKnown tells that its time
// already carries the right leap seconds.
func (d *decoder) fix(f Fix, leapKnown bool) {}

// pulse takes a pulse-per-second measurement of the clock's offset.
func (d *decoder) pulse(offsetS, uncertaintyS float64, at time.Time) {}

// report gives everything known now, with State Searching or Fixed.
func (d *decoder) report() Report { return Report{} }

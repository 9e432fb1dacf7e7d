package gps

import "time"

// speeds are tried in this order, in bit/s: the one of the NMEA 0183 standard,
// then what receivers are mostly set to (common practice, no source).
var speeds = [...]int{4800, 9600, 38400, 115200, 19200, 57600, 230400, 460800}

const (
	// speedTrial is how long bytes may arrive without a good sentence before
	// the next speed is tried.
	speedTrial = 2500 * time.Millisecond
	// speedTrust is the same for a speed that was once right: noise mustn't
	// drive it away.
	speedTrust = 10 * time.Second
)

// verdict is what the search says after some bytes.
type verdict int

const (
	speedKept  verdict = iota
	speedFound         // now for the first time
	speedWrong         // the next one has to be set
)

// speedSearch finds the speed of a serial line: a speed is right when a
// sentence with a good checksum comes. It outlives the port, so that a receiver
// plugged in again is first tried at the speed that it had.
type speedSearch struct {
	given, index int
	found        bool
	since, last  time.Time // the trial's begin; the last byte
}

func newSpeedSearch(given int) speedSearch { return speedSearch{given: given} }

// speed is the one to be set now.
func (s *speedSearch) speed() int {
	if s.given != 0 {
		return s.given
	}
	return speeds[s.index]
}

// reopened begins a trial afresh.
func (s *speedSearch) reopened() { s.since, s.last = time.Time{}, time.Time{} }

// judge takes note that bytes came at a moment, and whether there was a good
// sentence among them. Silence says nothing about the speed: after it the trial
// begins afresh.
func (s *speedSearch) judge(good bool, at time.Time) verdict {
	paused := at.Sub(s.last) > silence
	s.last = at
	if good || paused {
		s.since = at
	}
	if s.given != 0 {
		return speedKept
	}
	if good {
		if s.found {
			return speedKept
		}
		s.found = true
		return speedFound
	}
	trial := speedTrial
	if s.found {
		trial = speedTrust
	}
	if at.Sub(s.since) < trial {
		return speedKept
	}
	s.index, s.found, s.since = (s.index+1)%len(speeds), false, at
	return speedWrong
}

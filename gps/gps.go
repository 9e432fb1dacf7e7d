// Package gps gives positions, the time and headings from receivers, and how
// far the computer's clock is wrong. It knows no satellites.
//
// Open takes a source's URL and returns a Receiver; its Reports channel always
// holds the newest Report and never blocks the reader behind it.
package gps

import (
	"context"
	"errors"
	"time"
)

// Fix is one position and time from a receiver.
type Fix struct {
	Time     time.Time // UTC, from the receiver; zero while it doesn't know
	Received time.Time // the computer's clock when its first byte arrived

	LatitudeDeg, LongitudeDeg float64 // WGS-84, north and east positive
	// AltitudeM is the height above the WGS-84 ellipsoid in metres. Where the
	// receiver gave no geoid separation it is the height above mean sea level,
	// and AltitudeUncertaintyM says so (one standard deviation).
	AltitudeM            float64
	AltitudeKnown        bool
	AltitudeUncertaintyM float64 // 0: as good as the receiver

	Quality        string // "none", "gps", "differential", "rtk", "estimated", "fixed", "simulated"
	SatellitesUsed int
	HDOP           float64 // 0 when not given
}

// Valid tells whether the fix is a position to be used.
func (f Fix) Valid() bool { return f.Quality != "" && f.Quality != "none" && f.Quality != "simulated" }

// Clock is how far the computer's clock is wrong.
type Clock struct {
	Known bool
	// OffsetS is GPS time minus the computer's time in seconds: positive when
	// the computer is slow. Add it to the computer's time to get the true time.
	OffsetS float64
	// UncertaintyS is one standard deviation in seconds, with the delay that
	// the receiver and the line add unseen.
	UncertaintyS float64
	At           time.Time // the computer's clock when it was last measured
}

// Correct returns the true time for a reading of the computer's clock; the
// reading itself while the offset isn't known.
func (c Clock) Correct(computer time.Time) time.Time {
	if !c.Known {
		return computer
	}
	return computer.Add(time.Duration(c.OffsetS * float64(time.Second)))
}

// Heading is the direction of a sensor, for a compass on the boom.
type Heading struct {
	Received    time.Time
	TrueDeg     float64
	TrueKnown   bool
	MagneticDeg float64
	// MagneticKnown tells that MagneticDeg was given or computed from the
	// sensor's own deviation.
	MagneticKnown bool
	PitchDeg      float64 // up positive
	PitchKnown    bool
}

// State is what a source is doing.
type State int

// The states of a source.
const (
	Opening   State = iota // not opened yet, or opened and nothing read
	Searching              // sentences arrive, no position in them
	Fixed                  // positions arrive
	Lost                   // unplugged, closed or silent; being tried again
	Ended                  // a replay has come to its end
)

// Report is everything that a source knows at one moment.
type Report struct {
	State     State
	Fix       Fix // the newest valid one, kept when lost; see Fix.Received for its age
	Clock     Clock
	Heading   *Heading // nil without a sensor
	Problem   string   // one line, for people, without control characters; empty when all is well
	Source    string   // the URL, with the baud rate found
	Sentences int      // accepted
	Rejected  int      // bad checksum, cut or impossible
	LastByte  time.Time
}

// Receiver is an opened source. It goes on by itself until Close.
type Receiver struct{ reports chan Report }

// Options are what a source may need to be told.
type Options struct {
	// Now reads the computer's clock; time.Now when nil.
	Now func() time.Time
	// NotBefore is the earliest believable date (the build's); it catches the
	// 1024-week roll-over. The package's own default when zero.
	NotBefore time.Time
}

// Open opens a source by its URL:
//
//	serial:///dev/ttyUSB0?baud=9600   (no baud: found by trying)
//	gpsd://localhost:2947
//	tcp://HOST:PORT, udp://:PORT      (NMEA lines)
//	file:///PATH.nmea?rate=1          (replayed by its own time stamps)
//	fixed:LAT,LON[,HEIGHT_M]
//
// It returns an error when the URL is wrong or when the source can't be opened
// at all at the first try; later losses are told in Reports and healed.
func Open(ctx context.Context, url string, options Options) (*Receiver, error) {
	return nil, errors.New("not written yet")
}

// Reports gives the newest report. Its depth is one: an unread report is
// replaced by a newer one. It is closed after Close.
func (r *Receiver) Reports() <-chan Report { return r.reports }

// Close ends the source at once and waits for its goroutines.
func (r *Receiver) Close() error { return nil }

// Port is a serial port of this computer.
type Port struct{ Name, Description string }

// Ports lists the serial ports.
func Ports() ([]Port, error) { return nil, errors.New("not written yet") }

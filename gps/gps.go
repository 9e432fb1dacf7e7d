// Package gps gives positions, the time and headings from receivers, and how
// far the computer's clock is wrong. It knows no satellites.
//
// Open takes a source's URL and returns a Receiver; its Reports channel always
// holds the newest Report and never blocks the reader behind it.
package gps

import (
	"context"
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
	// UncertaintyS is a bound, not a standard deviation: the truth is taken to
	// lie within it of OffsetS, in seconds. Most of it is the delay that the
	// receiver and the line add unseen, which is the same for every sentence, so
	// that more of them don't shrink it; halve it where a standard deviation is
	// wanted. It holds at the time At; see UncertaintyAt for later.
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

// UncertaintyAt is UncertaintyS at another reading of the computer's clock,
// which drifts by up to 100 ppm since (common practice, no source): 0.4 s an
// hour.
func (c Clock) UncertaintyAt(computer time.Time) float64 {
	return c.UncertaintyS + driftPerS*computer.Sub(c.At).Abs().Seconds()
}

// Heading is the direction of a sensor, for a compass on the boom. At least one
// part of it is known. The parts came within two seconds of each other.
type Heading struct {
	Received    time.Time // the computer's clock when the newest part arrived; see Fresh
	TrueDeg     float64   // [0, 360)
	TrueKnown   bool
	MagneticDeg float64 // [0, 360)
	// MagneticKnown tells that MagneticDeg was given or computed from the
	// sensor's own deviation.
	MagneticKnown bool
	PitchDeg      float64 // -90 to 90, up positive
	PitchKnown    bool
	RollDeg       float64 // -180 to 180, right side down positive
	RollKnown     bool
}

// Fresh tells whether a heading is the present one at a reading of the
// computer's clock: sensors speak once a second or more often. Nil is not.
func (h *Heading) Fresh(computer time.Time) bool {
	return h != nil && computer.Sub(h.Received).Abs() <= silence
}

// known tells whether there is anything in it.
func (h Heading) known() bool {
	return h.TrueKnown || h.MagneticKnown || h.PitchKnown || h.RollKnown
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
	Heading   *Heading // nil without a sensor; the newest, kept when lost
	Problem   string   // one line, for people, without control characters; empty when all is well
	Source    string   // the URL, with the baud rate found
	Sentences int      // accepted
	Rejected  int      // bad checksum, cut or impossible
	LastByte  time.Time
	Sensor    Sensor // of Join; zero where the heading comes with the fix
}

// Receiver is an opened source. It goes on by itself until Close.
type Receiver struct {
	reports chan Report
	cancel  context.CancelFunc
	done    chan struct{} // closed when the goroutines have ended
}

// Options are what a source may need to be told.
type Options struct {
	// Now reads the computer's clock; time.Now when nil.
	Now func() time.Time
	// NotBefore is the earliest believable date (the build's); it catches the
	// 1024-week roll-over. The package's own default when zero.
	NotBefore time.Time
	// Patient lets Open succeed where the source isn't there yet: it is Lost
	// until it comes. A wrong URL stays an error.
	Patient bool
}

// Open opens a source by its URL:
//
//	serial:///dev/ttyUSB0?baud=9600   (no baud: found by trying)
//	gpsd://localhost:2947
//	tcp://HOST:PORT, udp://:PORT      (NMEA lines)
//	file:///PATH.nmea?rate=1          (replayed by its own time stamps)
//	fixed:LAT,LON[,HEIGHT_M]
//
// Files may be relative: file:NAME.nmea. A file's rate is 1 for real time, 10
// for ten times as fast, 0 for as fast as possible; a gap of more than a minute
// in it lasts a second. Where the rate isn't 1 the clock stays unknown.
//
// Open returns an *Error when the URL is wrong (it wraps ErrURL) or when the
// source can't be opened at all at the first try; later losses are told in
// Reports and healed. When the context ends the receiver is closed.
func Open(ctx context.Context, url string, options Options) (*Receiver, error) {
	at, err := parseAddress(url)
	if err != nil {
		return nil, err
	}
	if options.Now == nil {
		options.Now = time.Now
	}
	h := newHub(options, at.String(), at.live())
	h.noClock = at.scheme == "file" && at.rate != 1
	return start(ctx, at.newSource(), h, options.Patient)
}

// live tells whether the source goes on by itself, so that silence is a loss.
func (a address) live() bool { return a.scheme != "file" && a.scheme != "fixed" }

// newSource gives what can open the address.
func (a address) newSource() source {
	switch a.scheme {
	case "serial":
		return newSerialSource(a)
	case "gpsd":
		return gpsdSource{a}
	case "tcp":
		return tcpSource{a}
	case "udp":
		return udpSource{a}
	case "file":
		return replaySource{a}
	}
	return fixedSource{a}
}

// Reports gives the newest report. Its depth is one: an unread report is
// replaced by a newer one. It is closed after Close.
func (r *Receiver) Reports() <-chan Report { return r.reports }

// Close ends the source at once and waits for its goroutines.
func (r *Receiver) Close() error {
	r.cancel()
	<-r.done
	return nil
}

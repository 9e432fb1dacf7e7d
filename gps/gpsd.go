package gps

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"time"
)

// gpsdSource is a gpsd, spoken to in its JSON protocol (documented in the
// manual page gpsd_json(5)).
type gpsdSource struct{ at address }

func (s gpsdSource) open(ctx context.Context) (way, error) {
	conn, err := dial(ctx, s.at)
	if err != nil {
		return nil, &Error{
			What: err.Error(), Cause: err,
			Hint: `start gpsd, or give the receiver's port itself: list the ports with "foreaim gps --list"`,
		}
	}
	return &gpsdConn{Conn: conn, name: s.at.String(), local: sameComputer(conn)}, nil
}

// sameComputer tells whether the peer runs on this computer, so that it has the
// same clock.
func sameComputer(conn net.Conn) bool {
	here, ok1 := conn.LocalAddr().(*net.TCPAddr)
	there, ok2 := conn.RemoteAddr().(*net.TCPAddr)
	return ok1 && ok2 && here.IP.Equal(there.IP)
}

const (
	gpsdWatch = `?WATCH={"enable":true,"json":true,"nmea":false,"pps":true};` + "\n"
	// gpsdLine is the longest line taken, in bytes; the longest that gpsd
	// itself writes are its sky views of some 10 kB.
	gpsdLine = 64 << 10
)

// gpsdConn is an open connection to a gpsd.
type gpsdConn struct {
	net.Conn
	name  string
	local bool
	sky   gpsdSky
}

func (c *gpsdConn) listen(_ context.Context, h *hub) error {
	if _, err := io.WriteString(c.Conn, gpsdWatch); err != nil {
		return fmt.Errorf("%s: %w", c.name, reason(err))
	}
	lines := bufio.NewReaderSize(c.Conn, gpsdLine)
	for tooLong := false; ; {
		line, err := lines.ReadSlice('\n')
		at := h.arrived()
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			tooLong = true
			continue
		case errors.Is(err, io.EOF):
			return fmt.Errorf("%s: closed by gpsd", c.name)
		case err != nil:
			return fmt.Errorf("%s: %w", c.name, reason(err))
		}
		if !tooLong {
			c.take(bytes.TrimSpace(line), at, h)
		}
		tooLong = false
	}
}

// take hands over what one line says. Classes and lines that it doesn't
// understand are left out.
func (c *gpsdConn) take(line []byte, at time.Time, h *hub) {
	m, err := parseGpsd(line)
	if err != nil {
		h.trouble(fmt.Sprintf("%s: not gpsd's JSON: %.40q", c.name, line))
		return
	}
	switch m.Class {
	case "TPV":
		f, leapKnown := m.fix(c.sky)
		f.Received = at
		h.decoded(func(d *decoder) { d.fix(f, leapKnown) })
	case "SKY":
		c.sky = m.sky(c.sky)
	case "ATT":
		if heading, ok := m.attitude(); ok {
			heading.Received = at
			h.point(heading)
		}
	case "PPS", "TOFF":
		// They speak of the clock of gpsd's computer.
		if c.local {
			c.compare(m, at, h)
		}
	case "DEVICES":
		if len(m.Devices) == 0 {
			h.trouble(c.name + ": gpsd knows no receiver")
		}
	case "ERROR":
		h.trouble(c.name + ": " + m.Message)
	}
}

// compare hands over a comparison of the true time with the system's clock.
// The reports are about the hub's clock, which may be another.
func (c *gpsdConn) compare(m gpsdMessage, at time.Time, h *hub) {
	read := time.Unix(m.ClockSec, m.ClockNsec)
	read = at.Add(-time.Since(read)) // the hub's clock then
	real := time.Unix(m.RealSec, m.RealNsec).UTC()
	h.decoded(func(d *decoder) {
		if m.Class == "TOFF" { // a sentence's first byte
			d.arrival(real, read)
			return
		}
		d.pulse(real.Sub(read.Round(0)).Seconds(), m.pulseError(), read)
	})
}

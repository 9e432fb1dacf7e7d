package gps

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"go.bug.st/serial"
)

// serialSource is a receiver at a serial port.
type serialSource struct {
	at     address
	search speedSearch
}

func newSerialSource(at address) *serialSource {
	return &serialSource{at: at, search: newSpeedSearch(at.baud)}
}

func (s *serialSource) open(context.Context) (way, error) {
	s.search.reopened()
	port, err := serial.Open(s.at.path, &serial.Mode{BaudRate: s.search.speed(), DataBits: 8})
	if err != nil {
		return nil, serialError(s.at.path, err)
	}
	return &serialPort{Port: port, source: s}, nil
}

// serialPort is an open port. It has no read timeout: Close ends a read.
type serialPort struct {
	serial.Port
	source *serialSource
}

func (p *serialPort) listen(_ context.Context, h *hub) error {
	s := p.source
	buf := make([]byte, 4096)
	var lines splitter
	var line wire
	for {
		n, err := p.Read(buf)
		if err != nil || n == 0 {
			return fmt.Errorf("%s: unplugged or closed; waiting for it to come back", s.at.path)
		}
		at := h.arrived()
		baud := line.speed(n, s.search.speed())
		good := false
		lines.feed(buf[:n], at, baud, func(raw []byte, firstByte time.Time) {
			good = h.line(raw, firstByte, baud) || good
		})
		switch s.search.judge(good, time.Now()) {
		case speedFound:
			found := s.at
			found.baud = s.search.speed()
			h.name(found.String())
		case speedWrong:
			lines, line = splitter{}, wire{}
			h.trouble(fmt.Sprintf("no sentence at this speed, trying %d baud", s.search.speed()))
			if err := p.SetMode(&serial.Mode{BaudRate: s.search.speed(), DataBits: 8}); err != nil {
				return fmt.Errorf("%s: set %d baud: %w", s.at.path, s.search.speed(), err)
			}
		}
	}
}

// serialError says in one line why a port can't be opened, and the way out.
func serialError(path string, err error) *Error {
	list := `plug the receiver in, or list the ports with "foreaim gps --list"`
	what, hint := err.Error(), list
	code := serial.PortErrorCode(-1)
	var byValue serial.PortError
	if byPointer := (*serial.PortError)(nil); errors.As(err, &byPointer) {
		code = byPointer.Code()
	} else if errors.As(err, &byValue) {
		code = byValue.Code()
	}
	switch {
	case code == serial.PortNotFound || errors.Is(err, fs.ErrNotExist):
		what = "no such port"
	case code == serial.PermissionDenied || errors.Is(err, fs.ErrPermission):
		what = "no permission"
		hint = `add yourself to the group that owns the port, e.g. "sudo usermod -a -G dialout $USER", and log in again`
	case code == serial.PortBusy:
		what = "another program uses it"
		hint = "end that program; if it is gpsd, use gpsd://localhost"
	case code == serial.InvalidSerialPort:
		what = "not a serial port, or it refuses the speed"
	}
	return &Error{What: oneLine(fmt.Sprintf("open %s: %s", path, what)), Hint: hint, Cause: err}
}

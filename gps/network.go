package gps

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"time"
)

// tcpSource is a stream of NMEA lines from a network peer.
type tcpSource struct{ at address }

func (s tcpSource) open(ctx context.Context) (way, error) {
	conn, err := dial(ctx, s.at)
	if err != nil {
		return nil, &Error{
			What: err.Error(), Cause: err,
			Hint: "check that the sender runs, its address and its port, and that both are in one network",
		}
	}
	return &nmeaConn{Conn: conn, name: s.at.String(), gone: "closed by the sender"}, nil
}

func dial(ctx context.Context, at address) (net.Conn, error) {
	ctx, cancel := context.WithTimeout(ctx, attempt)
	defer cancel()
	var d net.Dialer
	conn, err := d.DialContext(ctx, "tcp", at.hostPort())
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", at, reason(err))
	}
	return conn, nil
}

// reason gives the heart of a network error, without the addresses that are
// named beside it anyway.
func reason(err error) error {
	if op := (*net.OpError)(nil); errors.As(err, &op) {
		err = op.Err
	}
	if errors.Is(err, context.DeadlineExceeded) || isTimeout(err) {
		return fmt.Errorf("no answer within %v", attempt)
	}
	return err
}

func isTimeout(err error) bool {
	var n net.Error
	return errors.As(err, &n) && n.Timeout()
}

// udpSource is datagrams with NMEA lines, as phones send them.
type udpSource struct{ at address }

func (s udpSource) open(ctx context.Context) (way, error) {
	var l net.ListenConfig
	conn, err := l.ListenPacket(ctx, "udp", s.at.hostPort())
	if err != nil {
		return nil, &Error{
			What: fmt.Sprintf("open %s: %v", s.at, reason(err)), Cause: err,
			Hint: "take another port here and in the sender, or end the program that has it",
		}
	}
	return &nmeaConn{Conn: conn.(*net.UDPConn), name: s.at.String(), datagrams: true}, nil
}

// nmeaConn is a network connection that carries NMEA lines.
type nmeaConn struct {
	net.Conn
	name, gone string
	datagrams  bool // each may end without a line end
}

func (c *nmeaConn) listen(_ context.Context, h *hub) error {
	buf := make([]byte, 64<<10) // more than the longest datagram
	var lines splitter
	for {
		n, err := c.Read(buf)
		if n > 0 {
			at := h.arrived()
			take := func(line []byte, firstByte time.Time) { h.line(line, firstByte, 0) }
			lines.feed(buf[:n], at, 0, take)
			if c.datagrams && endsInChecksum(buf[:n]) {
				lines.feed([]byte{'\n'}, at, 0, take)
			}
		}
		switch {
		case errors.Is(err, io.EOF):
			return fmt.Errorf("%s: %s", c.name, c.gone)
		case err != nil:
			return fmt.Errorf("%s: %w", c.name, reason(err))
		}
	}
}

// endsInChecksum tells whether a datagram ends with a whole sentence whose line
// end was left out.
func endsInChecksum(b []byte) bool {
	n := len(b)
	return n >= 3 && b[n-3] == '*' && isHex(b[n-2]) && isHex(b[n-1])
}

func isHex(b byte) bool {
	return '0' <= b && b <= '9' || 'A' <= b && b <= 'F' || 'a' <= b && b <= 'f'
}

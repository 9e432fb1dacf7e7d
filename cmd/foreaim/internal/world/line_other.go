//go:build !unix

package world

import (
	"io"
	"net"
	"sync"
)

// Line opens the line from the receiver to the program: a TCP connection on
// this computer, as the platform has no pseudo-terminals. It returns the
// receiver's end and the URL of the program's.
func Line() (io.WriteCloser, string, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, "", err
	}
	l := &tcpLine{listener: listener}
	go l.accept()
	return l, "tcp://" + listener.Addr().String(), nil
}

type tcpLine struct {
	listener net.Listener
	mu       sync.Mutex
	conn     net.Conn
}

func (l *tcpLine) accept() {
	for {
		conn, err := l.listener.Accept()
		if err != nil {
			return
		}
		l.mu.Lock()
		if l.conn != nil {
			l.conn.Close()
		}
		l.conn = conn
		l.mu.Unlock()
	}
}

// Write sends to whoever listens; a receiver doesn't mind if nobody does.
func (l *tcpLine) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.conn != nil {
		if _, err := l.conn.Write(p); err != nil {
			l.conn.Close()
			l.conn = nil
		}
	}
	return len(p), nil
}

func (l *tcpLine) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.conn != nil {
		l.conn.Close()
	}
	return l.listener.Close()
}

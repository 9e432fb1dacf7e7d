//go:build unix

package world

import (
	"io"
	"os"

	"github.com/creack/pty"
)

// Line opens the line from the receiver to the program: a pseudo-terminal,
// which the program opens as it opens any serial port. It returns the
// receiver's end and the URL of the program's.
func Line() (io.WriteCloser, string, error) {
	receiver, port, err := pty.Open()
	if err != nil {
		return nil, "", err
	}
	return &ptyLine{receiver, port}, "serial://" + port.Name() + "?baud=9600", nil
}

// ptyLine keeps the port's end open too, so that the receiver may send before
// the program listens.
type ptyLine struct{ receiver, port *os.File }

func (l *ptyLine) Write(p []byte) (int, error) { return l.receiver.Write(p) }

func (l *ptyLine) Close() error {
	l.port.Close()
	return l.receiver.Close()
}

package main

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// counter counts up in one line, where somebody watches.
type counter struct {
	to    io.Writer // nil: nobody watches
	what  string
	now   func() time.Time
	shown time.Time
	width int
}

// progressPause keeps the line from being written more often than can be read.
const progressPause = 200 * time.Millisecond

func (sys system) newCounter(what string) *counter {
	p := &counter{what: what, now: sys.now}
	if sys.watched {
		p.to = sys.stderr
	}
	return p
}

func (p *counter) step(done, total int) {
	if p.to == nil || p.now().Sub(p.shown) < progressPause {
		return
	}
	p.shown = p.now()
	line := fmt.Sprintf("%d of %d %s", done, total, p.what)
	p.width = max(p.width, len(line))
	fmt.Fprintf(p.to, "\r%s", line)
}

// end wipes the line.
func (p *counter) end() {
	if p.width > 0 {
		fmt.Fprintf(p.to, "\r%s\r", strings.Repeat(" ", p.width))
	}
}

package main

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// progress is one line on a terminal that tells how far something is.
type progress struct {
	out   io.Writer // nil: nobody looks
	now   func() time.Time
	shown time.Time
	width int // of what stands there
}

// progressPause keeps the line from being written more often than can be read.
const progressPause = 200 * time.Millisecond

func (sys system) newProgress() *progress {
	p := &progress{now: sys.now}
	if sys.watched {
		p.out = sys.stderr
	}
	return p
}

// tell shows a text, unless the one before it has hardly been seen.
func (p *progress) tell(text string) {
	if p.out == nil || p.now().Sub(p.shown).Abs() < progressPause {
		return
	}
	p.shown, p.width = p.now(), max(p.width, len(text))
	fmt.Fprintf(p.out, "\r%-*s", p.width, text)
}

// clear takes the line away.
func (p *progress) clear() {
	if p.width > 0 {
		fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", p.width))
		p.width = 0
	}
}

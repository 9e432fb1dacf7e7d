package runner

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"time"
)

const (
	// reapWait is how long a killed program gets to be gone, drainWait the end
	// of its output to arrive.
	reapWait  = 2 * time.Second
	drainWait = 500 * time.Millisecond
	// noTimeout stands for none given.
	noTimeout = 24 * time.Hour
)

// run runs a command to its end, or to the context's, or its time-out, and
// returns soon after whichever comes first.
func run(ctx context.Context, c Command) (r Result) {
	r = Result{Name: c.name(), Started: time.Now(), Status: -1}
	defer func() {
		if p := recover(); p != nil {
			r.Err = fmt.Errorf("panic: %s", oneLine(fmt.Sprint(p)))
		}
		r.Took = time.Since(r.Started)
	}()
	if ctx.Err() != nil {
		r.Err = ErrStopped
		return r
	}
	if len(c.Args) == 0 {
		r.Err = fmt.Errorf("the command is empty: %w", ErrMissing)
		return r
	}
	p, err := start(c)
	if err != nil {
		r.Err = startError(c, err)
		return r
	}
	err = p.wait(ctx, c)
	r.Output, r.Cut = p.output.text()
	if ended := p.cmd.ProcessState; p.reaped && ended.Exited() {
		r.Status = ended.ExitCode()
	}
	r.Err = err
	if exit, ok := err.(*exec.ExitError); ok {
		r.Err = statusError(exit, r.Output)
	}
	return r
}

// process is a program that runs.
type process struct {
	cmd     *exec.Cmd
	output  capture
	exited  chan error    // the program's end
	drained chan struct{} // closed when all that wrote are gone
	reaped  bool
	pipes   []io.Closer
}

// start starts a program with its pipes. They are plain files to the exec
// package, so waiting for the program is waiting for nothing else.
func start(c Command) (*process, error) {
	p := &process{cmd: exec.Command(c.Args[0], c.Args[1:]...), exited: make(chan error, 1), drained: make(chan struct{})}
	out, outEnd, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	p.cmd.Stdout, p.cmd.Stderr, p.cmd.SysProcAttr = outEnd, outEnd, apart()
	p.pipes = []io.Closer{out}
	theirs := []io.Closer{outEnd}
	var in *os.File
	if len(c.Input) > 0 {
		inEnd, w, err := os.Pipe()
		if err != nil {
			closeAll(append(p.pipes, theirs...))
			return nil, err
		}
		in, p.cmd.Stdin = w, inEnd
		p.pipes, theirs = append(p.pipes, w), append(theirs, inEnd)
	}
	err = p.cmd.Start()
	closeAll(theirs)
	if err != nil {
		closeAll(p.pipes)
		return nil, err
	}
	go func() { p.exited <- p.cmd.Wait() }()
	go func() {
		defer close(p.drained)
		_, _ = io.Copy(&p.output, out) // ends with the last writer or when closed
	}()
	if in != nil {
		go func() {
			_, _ = in.Write(c.Input) // a program need not read its input
			_ = in.Close()
		}()
	}
	return p, nil
}

// wait waits for the program's end, and brings it about when the time is up.
func (p *process) wait(ctx context.Context, c Command) error {
	limit := c.Timeout
	if limit <= 0 {
		limit = noTimeout
	}
	timeout := time.NewTimer(limit)
	defer timeout.Stop()
	defer closeAll(p.pipes)
	var err error
	select {
	case err = <-p.exited:
		p.reaped = true
		kill(p.cmd.Process) // what it left behind
	case <-timeout.C:
		err = p.stop(c.Grace, fmt.Errorf("%w (%v)", ErrTimeout, limit))
	case <-ctx.Done():
		err = p.stop(c.Grace, ErrStopped)
	}
	select {
	case <-p.drained:
	case <-time.After(drainWait):
	}
	return err
}

// stop asks the program to end, ends it when it doesn't, and returns why, or
// that nothing helps.
func (p *process) stop(grace time.Duration, why error) error {
	if grace > 0 {
		ask(p.cmd.Process)
		select {
		case <-p.exited:
			p.reaped = true
		case <-time.After(grace):
		}
	}
	kill(p.cmd.Process)
	if p.reaped {
		return why
	}
	select {
	case <-p.exited:
		p.reaped = true
		return why
	case <-time.After(reapWait):
		return fmt.Errorf("%w; %w", why, ErrStuck)
	}
}

func closeAll(all []io.Closer) {
	for _, c := range all {
		_ = c.Close()
	}
}

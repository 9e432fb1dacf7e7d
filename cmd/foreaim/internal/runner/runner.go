package runner

import (
	"context"
	"fmt"
	"sync"
	"time"
)

const (
	// maxRunning commands run at once; more are refused, in words.
	maxRunning = 32
	// defaultTimeout is for commands that name none, defaultGrace is what a
	// recorder needs to finish its file.
	defaultTimeout = time.Minute
	defaultGrace   = time.Second
	// closeWait bounds Close: the grace, the killing, and some.
	closeWait = 5 * time.Second
)

// Runner runs commands beside the program, several at once.
type Runner struct {
	ctx     context.Context
	cancel  context.CancelFunc
	trouble func(string)

	mu      sync.Mutex
	running int
	closed  bool
	idle    chan struct{} // closed when closed and nothing runs any more
}

// New makes a runner. Close it. Should a receiver of results panic, trouble gets
// a line about it, from another goroutine; it may be nil.
func New(trouble func(line string)) *Runner {
	ctx, cancel := context.WithCancel(context.Background())
	return &Runner{ctx: ctx, cancel: cancel, trouble: trouble, idle: make(chan struct{})}
}

// Go runs a command and hands its result to done, from another goroutine,
// exactly once. It returns at once, before the program is started. Without a
// time-out the command gets a minute, without a grace a second.
func (r *Runner) Go(c Command, done func(Result)) {
	if c.Timeout <= 0 {
		c.Timeout = defaultTimeout
	}
	if c.Grace <= 0 {
		c.Grace = defaultGrace
	}
	if err := r.enter(); err != nil {
		go r.hand(done, Result{Name: c.name(), Started: time.Now(), Status: -1, Err: err})
		return
	}
	go func() {
		defer r.leave()
		r.hand(done, run(r.ctx, c))
	}()
}

// Close ends what runs, and returns when it has, or after some seconds.
func (r *Runner) Close() {
	r.mu.Lock()
	if !r.closed {
		r.closed = true
		if r.running == 0 {
			close(r.idle)
		}
	}
	r.mu.Unlock()
	r.cancel()
	select {
	case <-r.idle:
	case <-time.After(closeWait):
	}
}

func (r *Runner) enter() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	switch {
	case r.closed:
		return ErrStopped
	case r.running >= maxRunning:
		return fmt.Errorf("%w (%d)", ErrTooMany, r.running)
	}
	r.running++
	return nil
}

func (r *Runner) leave() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.running--
	if r.closed && r.running == 0 {
		close(r.idle)
	}
}

// hand hands over a result.
func (r *Runner) hand(done func(Result), result Result) {
	if done == nil {
		return
	}
	if line := guard(func() { done(result) }); line != "" && r.trouble != nil {
		_ = guard(func() { r.trouble(result.Name + ": " + line) })
	}
}

// guard calls a function of somebody else's and returns what it panicked with,
// as a line; "" when it didn't.
func guard(call func()) (line string) {
	defer func() {
		if p := recover(); p != nil {
			line = "panic: " + oneLine(fmt.Sprint(p))
		}
	}()
	call()
	return ""
}

package runner

import (
	"context"
	"sync"
	"time"
)

// Spoken tells that something was said, or that it could not be.
type Spoken struct {
	Text        string
	Start, End  time.Time
	Interrupted bool  // by something urgent, or at the end of the program
	Err         error // why it failed
}

// saying is something to say.
type saying struct {
	text     string
	command  Command
	estimate time.Duration // at the pace 1
	stale    time.Time     // to be over by then
}

// announcer says one thing at a time through a command, and of what comes
// meanwhile the latest only.
type announcer struct {
	what    string // for messages: "voice"
	run     func(context.Context, Command) Result
	observe func(Spoken)
	wake    chan struct{}
	done    chan struct{} // closed when nothing is said any more
	stop    context.CancelFunc

	mu      sync.Mutex // held for moments only, never while a program is started
	next    *saying
	cut     context.CancelFunc // interrupts what is being said; nil in silence
	closed  bool
	pace    pace
	failed  int       // in a row
	again   time.Time // not before then, after a failure
	problem string
}

const (
	// After a failure nothing is tried for a second, then two, and so on: most
	// of a pass is left when the cable is back in.
	firstRetry = time.Second
	lastRetry  = 16 * time.Second
	// stopWait bounds how long Close waits for a program that can't be killed.
	stopWait = 3 * time.Second
)

func newAnnouncer(what string, observe func(Spoken), run func(context.Context, Command) Result) *announcer {
	ctx, stop := context.WithCancel(context.Background())
	a := &announcer{what: what, run: run, observe: observe, stop: stop,
		wake: make(chan struct{}, 1), done: make(chan struct{})}
	go a.loop(ctx)
	return a
}

// say leaves something to be said and returns at once.
func (a *announcer) say(s saying, urgent bool) {
	a.mu.Lock()
	if !a.closed {
		a.next = &s
		if urgent && a.cut != nil {
			a.cut()
		}
	}
	a.mu.Unlock()
	select {
	case a.wake <- struct{}{}:
	default: // it is awake, or will be
	}
}

// close falls silent.
func (a *announcer) close() {
	a.mu.Lock()
	a.closed, a.next = true, nil
	a.mu.Unlock()
	a.stop()
	select {
	case <-a.done:
	case <-time.After(stopWait):
	}
}

// trouble returns what is wrong, "" while all is well.
func (a *announcer) trouble() string {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.problem
}

// loop says what is left to be said until the context ends.
func (a *announcer) loop(ctx context.Context) {
	defer close(a.done)
	for {
		select {
		case <-ctx.Done():
			return
		case <-a.wake:
		}
		for {
			s, saying, done := a.take(ctx)
			if s == nil {
				break
			}
			result := a.run(saying, s.command)
			interrupted := saying.Err() != nil && result.Err != nil
			done()
			a.learn(s, result, interrupted)
			a.tell(s, result, interrupted)
		}
	}
}

// take takes what is to be said now, unless it can't end in time any more, or
// the command has just failed. Its context ends when it is interrupted.
func (a *announcer) take(ctx context.Context) (*saying, context.Context, context.CancelFunc) {
	a.mu.Lock()
	defer a.mu.Unlock()
	s := a.next
	a.next, a.cut = nil, nil
	if s == nil || a.closed {
		return nil, nil, nil
	}
	now, takes := wallClock(), a.pace.of(s.estimate)
	if now.Add(takes).After(s.stale.Round(0)) || now.Before(a.again) && a.again.Sub(now) <= lastRetry {
		return nil, nil, nil
	}
	s.command.Timeout = 3*takes + 3*time.Second
	speaking, cut := context.WithCancel(ctx)
	a.cut = cut
	return s, speaking, cut
}

// learn takes the outcome into account. An interruption says nothing about the
// command, unless it should have ended long before.
func (a *announcer) learn(s *saying, r Result, interrupted bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	overdue := r.Took > 2*a.pace.of(s.estimate)
	switch {
	case r.Err == nil:
		a.pace = a.pace.learn(s.estimate, r.Took)
		a.failed, a.problem, a.again = 0, "", time.Time{}
	case interrupted && !overdue, a.closed:
	default:
		a.problem = a.what + ": " + r.Name + ": " + r.Err.Error()
		if interrupted {
			a.problem = a.what + ": " + r.Name + ": does not end"
		}
		a.again = wallClock().Add(min(firstRetry<<min(a.failed, 10), lastRetry))
		a.failed++
	}
}

// tell hands the outcome to the observer.
func (a *announcer) tell(s *saying, r Result, interrupted bool) {
	if a.observe == nil {
		return
	}
	spoken := Spoken{Text: s.text, Start: r.Started.Round(0), End: r.Started.Add(r.Took).Round(0), Interrupted: interrupted}
	if !interrupted {
		spoken.Err = r.Err
	}
	if line := guard(func() { a.observe(spoken) }); line != "" {
		a.mu.Lock()
		a.problem = a.what + ": " + line
		a.mu.Unlock()
	}
}

// wallClock is the time without the monotonic reading, which stands still while
// the computer sleeps: a text would seem fresh after it.
func wallClock() time.Time { return time.Now().Round(0) }

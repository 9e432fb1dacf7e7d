package gps

import (
	"context"
	"io"
	"time"
)

// source is one kind of way to a receiver.
type source interface {
	// open opens the way once. The context ends the attempt, not the way.
	open(ctx context.Context) (way, error)
}

// way is an opened source. Close from another goroutine ends listen at once.
type way interface {
	// listen hands over what arrives until the way ends, and says why. With nil
	// nothing more will come and nothing is to be opened again.
	listen(ctx context.Context, h *hub) error
	io.Closer
}

const (
	firstPause   = 100 * time.Millisecond // before opening again
	longestPause = time.Second
	attempt      = 3 * time.Second // for one opening over a network
)

// start opens a source for the first time and leaves it running. A patient one
// may fail at first.
func start(ctx context.Context, src source, h *hub, patient bool) (*Receiver, error) {
	first, err := src.open(ctx)
	if err != nil && !patient {
		return nil, err
	}
	ctx, cancel := context.WithCancel(ctx)
	r := &Receiver{reports: h.out, cancel: cancel, done: make(chan struct{})}
	go func() {
		defer close(r.done)
		defer close(h.out)
		run(ctx, src, first, err, h)
		<-ctx.Done()
	}()
	return r, nil
}

// run listens, and opens the source again whenever it is lost, until the
// context ends or nothing more will come. It begins with an opened way or with
// the reason why there is none.
func run(ctx context.Context, src source, w way, err error, h *hub) {
	defer h.guard()
	pause := firstPause
	for {
		if err == nil {
			h.open()
			heard := h.lastHeard()
			err = session(ctx, w, h)
			if err == nil || ctx.Err() != nil {
				return
			}
			if h.lastHeard() != heard {
				pause = firstPause
			}
		}
		h.lose(err.Error())
		if !sleep(ctx, pause) {
			return
		}
		pause = min(2*pause, longestPause)
		w, err = src.open(ctx)
	}
}

// session listens to an opened way under the watch, and leaves it closed.
func session(ctx context.Context, w way, h *hub) error {
	ctx, cancel := context.WithCancel(ctx)
	watched := make(chan struct{})
	go func() {
		defer close(watched)
		h.watch(ctx, w)
	}()
	defer func() { cancel(); <-watched }()
	return w.listen(ctx, h)
}

// sleep waits. It tells false when the context ended first.
func sleep(ctx context.Context, d time.Duration) bool {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}

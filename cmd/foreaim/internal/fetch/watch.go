package fetch

import (
	"context"
	"errors"
	"time"
)

var (
	errSilent = errors.New("the server is silent")
	errSlow   = errors.New("the server is too slow")
)

// watch ends a fetch that takes too long.
type watch struct {
	silence time.Duration
	timers  [2]*time.Timer
	cancel  context.CancelCauseFunc
}

// newWatch begins to watch. The context ends with errSilent or errSlow.
func newWatch(ctx context.Context, limits Limits) (*watch, context.Context) {
	ctx, cancel := context.WithCancelCause(ctx)
	w := &watch{silence: limits.Silence, cancel: cancel}
	w.timers[0] = time.AfterFunc(limits.Silence, func() { cancel(errSilent) })
	w.timers[1] = time.AfterFunc(limits.Whole, func() { cancel(errSlow) })
	return w, ctx
}

// heard says that something came from the server.
func (w *watch) heard() { w.timers[0].Reset(w.silence) }

func (w *watch) stop() {
	for _, t := range w.timers {
		t.Stop()
	}
	w.cancel(nil)
}

package terrain

import (
	"context"
	"sync"
	"sync/atomic"
)

// share calls do for 0 to n-1 on several goroutines, each with memory of its own
// that is used again, until one fails or the context ends, which it returns.
func share[T any](ctx context.Context, workers, n int, do func(ctx context.Context, i int, own *T) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			var own T
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if err := do(ctx, i, &own); err != nil {
					cancel(err)
					return
				}
			}
		})
	}
	wait.Wait()
	return context.Cause(ctx)
}

// work shares places among goroutines and tells how far it has come.
type work struct {
	ctx      context.Context
	workers  int
	mu       sync.Mutex // of progress
	done     int
	total    int
	progress func(done, total int)
}

// each is share for places.
func (w *work) each(n int, do func(ctx context.Context, i int, p *profiler) error) error {
	return share(w.ctx, w.workers, n, func(ctx context.Context, i int, p *profiler) error {
		err := do(ctx, i, p)
		if err == nil {
			w.tell()
		}
		return err
	})
}

func (w *work) tell() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.done++
	if w.progress != nil {
		w.progress(w.done, w.total)
	}
}

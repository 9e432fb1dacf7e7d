package terrain

import (
	"context"
	"sync"
	"sync/atomic"
)

// work shares places among goroutines.
type work struct {
	ctx      context.Context
	workers  int
	mu       sync.Mutex // of progress
	done     int
	total    int
	progress func(done, total int)
}

// each calls do for 0 to n-1 until one fails or the context ends, which it
// returns.
func (w *work) each(n int, do func(ctx context.Context, i int, p *profiler) error) error {
	ctx, cancel := context.WithCancelCause(w.ctx)
	defer cancel(nil)
	var next atomic.Int64
	var wait sync.WaitGroup
	for range w.workers {
		wait.Go(func() {
			var p profiler
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if err := do(ctx, i, &p); err != nil {
					cancel(err)
					return
				}
				w.tell()
			}
		})
	}
	wait.Wait()
	return context.Cause(ctx)
}

func (w *work) tell() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.done++
	if w.progress != nil {
		w.progress(w.done, w.total)
	}
}

package rehearse

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"foreaim/track/aim"
)

// Score is what a way of aiming reached.
type Score struct {
	HeardShare float64 // of the bursts of a pass, mean over the passes
	AnyShare   float64 // of the passes, with at least one burst heard
}

// Result is a run, by way of aiming.
type Result map[Way]Score

// tally is one pass by one way.
type tally struct{ bursts, heard int }

// Run plays the passes for all ways of aiming, on all cores. The same settings
// give the same result. Progress, which may be nil, is called now and then by
// one goroutine at a time with the number of passes done. A cancelled context
// ends the run with its error, and with the result of the passes done until then.
func Run(ctx context.Context, s Settings, progress func(done int)) (Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	tallies := make([][]tally, s.Passes)
	err := each(ctx, s.Passes, progress, func(i int) error {
		w, err := draw(s, i)
		if err != nil {
			return err
		}
		played := make([]tally, len(Ways()))
		for k, way := range Ways() {
			if played[k], err = w.play(way, nil); err != nil {
				return err
			}
		}
		tallies[i] = played
		return nil
	})
	return score(tallies), err
}

// score sums up the passes that were played.
func score(tallies [][]tally) Result {
	result := Result{}
	for k, way := range Ways() {
		var score Score
		counted := 0.0
		for _, t := range tallies {
			if t == nil || t[k].bursts == 0 {
				continue // not played, or no burst fell into the pass
			}
			counted++
			score.HeardShare += float64(t[k].heard) / float64(t[k].bursts)
			if t[k].heard > 0 {
				score.AnyShare++
			}
		}
		if counted > 0 {
			score.HeardShare /= counted
			score.AnyShare /= counted
		}
		result[way] = score
	}
	return result
}

// play plays the pass one way. Watch, which may be nil, sees each burst after
// it was marked.
func (w *truth) play(way Way, watch func(a aimer, b burst, heard bool)) (tally, error) {
	var t tally
	a, err := w.aimer(way)
	if err != nil {
		return t, err
	}
	for _, b := range w.bursts {
		held, err := a.aim(b)
		if err != nil {
			return t, err
		}
		heard, strength := false, aim.Strength("")
		if b.up {
			t.bursts++
			heard, strength = b.heard(w.margin(b, held))
		}
		if heard {
			t.heard++
		}
		a.told(b, held, heard, strength)
		if watch != nil {
			watch(a, b, heard)
		}
	}
	return t, nil
}

// each calls do for 0 to n-1 on all cores until one fails or the context ends.
func each(ctx context.Context, n int, progress func(int), do func(i int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var (
		next    atomic.Int64
		workers sync.WaitGroup
		mutex   sync.Mutex
		done    int
	)
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if err := do(i); err != nil {
					cancel(err)
					return
				}
				mutex.Lock()
				if done++; progress != nil {
					progress(done)
				}
				mutex.Unlock()
			}
		})
	}
	workers.Wait()
	return context.Cause(ctx)
}

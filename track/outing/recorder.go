package outing

import (
	"context"
	"fmt"
	"sync"
	"time"
)

// Recorder is a Writer behind a queue: Record returns at once, however slow the
// disk is. Records are written in the order given. What waits in the queue when
// the process is killed is lost; with a disk that works that is one record.
type Recorder struct {
	w    *Writer
	wake chan struct{} // depth one
	done chan struct{} // closed when the goroutine has ended

	mu      sync.Mutex
	queue   []Record
	writing time.Time // of the record in the Writer's hands; zero when none is
	closed  bool
	lost    int
	refused int
	last    time.Time
	failure string // why the goroutine ended too soon
}

// maxQueued bounds the queue: a minute and more at all that a frame can record,
// hours of marks and holds.
const maxQueued = 4096

// NewRecorder starts a Recorder; continuing as for NewWriter. Close ends it.
func NewRecorder(out Output, continuing bool) *Recorder {
	r := &Recorder{w: NewWriter(out, continuing), wake: make(chan struct{}, 1), done: make(chan struct{})}
	go r.run()
	return r
}

// Record queues a record and never waits. A record after Close is refused.
func (r *Recorder) Record(at time.Time, entry Entry) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.closed {
		r.refused++
		return
	}
	r.last = at
	r.queue = append(r.queue, Record{At: at, Entry: entry})
	if len(r.queue) > maxQueued {
		r.drop()
	}
	select {
	case r.wake <- struct{}{}:
	default:
	}
}

// drop takes the oldest passing record out of the queue, or the oldest of all.
func (r *Recorder) drop() {
	out := 0
	for i, q := range r.queue {
		if q.Entry != nil && passing(q.Entry.Kind()) {
			out = i
			break
		}
	}
	r.queue = append(r.queue[:out], r.queue[out+1:]...)
	r.lost++
}

// Status returns how the recording goes, at once.
func (r *Recorder) Status() Status {
	s := r.w.Status()
	r.mu.Lock()
	defer r.mu.Unlock()
	s.Lost += r.lost
	s.Waiting += len(r.queue)
	if s.Oldest.IsZero() {
		switch {
		case !r.writing.IsZero():
			s.Oldest = r.writing
		case len(r.queue) > 0:
			s.Oldest = r.queue[0].At
		}
	}
	if !r.writing.IsZero() && s.Waiting == 0 { // in the Writer's hands: being synced
		s.Waiting = 1
	}
	if r.refused > 0 {
		s.Refused += r.refused
		s.Why = "the record is closed"
	}
	if r.failure != "" {
		s.Stopped, s.Why = true, r.failure
		if s.Since.IsZero() {
			s.Since = s.Oldest
		}
	}
	return s
}

// Close writes what is queued and ends the Recorder; it leaves the Output open.
// It returns why records are missing, or the context's error when the disk
// doesn't answer in time.
func (r *Recorder) Close(ctx context.Context) error {
	r.mu.Lock()
	r.closed = true
	r.mu.Unlock()
	select {
	case r.wake <- struct{}{}:
	default:
	}
	select {
	case <-r.done:
	case <-ctx.Done():
		return fmt.Errorf("the disk does not answer, %d records are not written: %w", r.Status().Waiting, ctx.Err())
	}
	s := r.Status()
	switch {
	case s.Stopped:
		return fmt.Errorf("recording has stopped, %d records are not written: %s", s.Waiting, s.Why)
	case s.Lost > 0:
		return fmt.Errorf("%d records are lost: %s", s.Lost, s.Why)
	}
	return nil
}

// run writes the queue until Close. A panic of the Output ends the recording,
// not the program.
func (r *Recorder) run() {
	defer close(r.done)
	defer func() {
		if p := recover(); p != nil {
			r.mu.Lock()
			r.failure = Clean(fmt.Sprintf("writing has failed for good: %v", p))
			r.mu.Unlock()
		}
	}()
	for {
		record, closed, ok := r.next()
		switch {
		case ok:
			// The error is in the Writer's status, which is what is looked at.
			_ = r.w.Append(record)
		case closed:
			_ = r.w.Flush(r.last)
			return
		default:
			<-r.wake
		}
	}
}

// next takes the oldest record out of the queue.
func (r *Recorder) next() (record Record, closed, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.writing = time.Time{}
	if len(r.queue) == 0 {
		return Record{}, r.closed, false
	}
	record = r.queue[0]
	r.queue = r.queue[1:]
	r.writing = record.At
	return record, false, true
}

package outing

import (
	"cmp"
	"context"
	"fmt"
	"sync"
	"time"
)

// Recorder is a Writer behind a queue: Record returns at once, however slow the
// disk is. One goroutine writes the records in the order given, another syncs
// what has been written by then, so that no record waits for the sync of one
// before it unless the file system makes it. When the process is killed, the
// record being written is lost at most; when the power fails, what was written
// since the last sync that has ended. A disk on which a write itself hangs loses
// the queue.
type Recorder struct {
	w       *Writer
	wake    chan struct{} // depth one: something is queued
	written chan struct{} // depth one: something is to be synced; closed when nothing more is written
	done    chan struct{} // closed when both goroutines have ended

	mu      sync.Mutex
	queue   []Record
	writing time.Time // of the record in the Writer's hands; zero when none is
	closed  bool
	lost    int
	refused int
	last    time.Time
	failure string // of a goroutine that has panicked
}

// maxQueued bounds the queue: a minute and more at all that a frame can record,
// hours of marks and holds.
const maxQueued = 4096

// NewRecorder starts a Recorder; continuing as for NewWriter. Close ends it.
func NewRecorder(out Output, continuing bool) *Recorder {
	r := &Recorder{
		w:    NewWriter(out, continuing),
		wake: make(chan struct{}, 1), written: make(chan struct{}, 1), done: make(chan struct{}),
	}
	go r.write()
	go r.sync()
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
	signal(r.wake)
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
	signal(r.wake)
	select {
	case <-r.done:
	case <-ctx.Done():
		return fmt.Errorf("the disk does not answer, %s: %w", r.Status().missing(), ctx.Err())
	}
	s := r.Status()
	switch {
	case s.Stopped:
		return fmt.Errorf("recording has stopped, %s: %s", s.missing(), s.Why)
	case s.Lost > 0:
		return fmt.Errorf("%s lost: %s", recordsAre(s.Lost), cmp.Or(s.Why, "the disk did not keep up"))
	}
	return nil
}

// write writes the queue until Close. What goes wrong is in the Writer's status,
// which is what is looked at.
func (r *Recorder) write() {
	defer close(r.written)
	r.contain(func() {
		for {
			record, closed, ok := r.next()
			switch {
			case ok:
				_ = r.w.put(record)
				signal(r.written)
			case closed:
				return
			default:
				<-r.wake
			}
		}
	})
}

// sync syncs what is written until nothing more is, and tries for a last time
// then.
func (r *Recorder) sync() {
	defer close(r.done)
	for range r.written {
		r.contain(func() { _ = r.w.settle(stamp(r.lastAt())) })
	}
	r.contain(func() { _ = r.w.Flush(r.lastAt()) })
}

// lastAt is the time of the newest record.
func (r *Recorder) lastAt() time.Time {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.last
}

// contain makes a panic of the Output end the recording, not the program.
func (r *Recorder) contain(work func()) {
	defer func() {
		if p := recover(); p != nil {
			r.mu.Lock()
			defer r.mu.Unlock()
			r.failure = Clean(fmt.Sprintf("writing has failed for good: %v", p))
		}
	}()
	work()
}

// signal wakes who waits for a channel of depth one.
func signal(c chan<- struct{}) {
	select {
	case c <- struct{}{}:
	default:
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

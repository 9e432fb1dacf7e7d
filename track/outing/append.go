package outing

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"sync"
	"time"
)

// Output is where a record goes: a file opened for appending. Sync returns when
// what was written is safe from a loss of power.
type Output interface {
	io.Writer
	Sync() error
}

// maxKept bounds the records kept in memory while nothing can be written: some
// hours of marks and holds.
const maxKept = 4096

// Writer appends records to an Output, each with one Write of one whole line.
// After a failure it keeps the records that matter, tries again with every
// Append, and starts on a new line if the last one was torn, so that a torn
// line never swallows the next. Once it works again a WarningEntry in the
// record says how long it had not.
//
// It is safe for concurrent use. Append takes as long as the Output does: see
// Recorder for one that never waits.
type Writer struct {
	syncMu sync.Mutex // held while the Output syncs; taken before mu

	mu       sync.Mutex // for what follows; held while the Output writes
	out      Output     // may be written to while it syncs
	torn     bool       // the Output doesn't end in a newline, or may not
	kept     []keptLine
	mustSync bool  // something is written that matters, or a sync is asked for
	fresh    batch // written since the last sync began
	syncing  batch // that a sync is under way for

	statusMu sync.Mutex
	status   Status
}

// keptLine is a line that could not be written yet.
type keptLine struct {
	at   time.Time
	kind Kind
	line []byte
}

// batch is some records that matter, written but not yet synced.
type batch struct {
	n      int
	oldest time.Time
}

// and joins a later batch.
func (b batch) and(later batch) batch {
	if b.n == 0 {
		return later
	}
	return batch{b.n + later.n, b.oldest}
}

// NewWriter returns a Writer. Continuing tells that out may have lines already:
// the first record then begins with a newline, whatever the last one ended in.
func NewWriter(out Output, continuing bool) *Writer {
	return &Writer{out: out, torn: continuing}
}

// Append writes a record, after those that had to wait. Kinds other than fix,
// clock, advice and sensor are synced as well. It returns why the record could
// not be written; but for one that can't be a line at all, it is then kept.
func (w *Writer) Append(r Record) error {
	if err := w.put(r); err != nil {
		return err
	}
	return w.settle(stamp(r.At))
}

// put is Append without the sync, which settle does.
func (w *Writer) put(r Record) error {
	line, err := encode(r)
	if err != nil {
		w.note(func(s *Status) {
			s.Refused++
			s.Why = Clean(err.Error())
		})
		return fmt.Errorf("not recorded: %w", err)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.keep(keptLine{stamp(r.At), r.Entry.Kind(), line})
	return w.flush()
}

// Flush tries once more to write what had to wait, and syncs. The time, by the
// same clock as the records', goes into the record if it works again.
func (w *Writer) Flush(now time.Time) error {
	if err := w.retry(); err != nil {
		return err
	}
	return w.settle(stamp(now))
}

// retry writes what had to wait, and asks for a sync.
func (w *Writer) retry() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.mustSync = true
	return w.flush()
}

// Status returns how the recording goes, at once even while the Output hangs.
func (w *Writer) Status() Status {
	w.statusMu.Lock()
	defer w.statusMu.Unlock()
	return w.status
}

func (w *Writer) note(change func(s *Status)) {
	w.statusMu.Lock()
	defer w.statusMu.Unlock()
	change(&w.status)
}

// count notes how many records wait, for a write or a sync, and since when.
func (w *Writer) count() {
	unsynced := w.syncing.and(w.fresh)
	w.note(func(s *Status) {
		s.Waiting, s.Unsynced, s.Oldest = len(w.kept), unsynced.n, unsynced.oldest
		if unsynced.n == 0 && len(w.kept) > 0 {
			s.Oldest = w.kept[0].at
		}
	})
}

// keep queues a line. When there are too many, the oldest passing one goes,
// then the oldest.
func (w *Writer) keep(line keptLine) {
	if len(w.kept) >= maxKept {
		out := 0
		for i, k := range w.kept {
			if passing(k.kind) {
				out = i
				break
			}
		}
		w.kept = append(w.kept[:out], w.kept[out+1:]...)
		w.note(func(s *Status) { s.Lost++ })
	}
	w.kept = append(w.kept, line)
	w.count()
}

// flush writes the queue in order, as far as it goes.
func (w *Writer) flush() error {
	for len(w.kept) > 0 {
		k := w.kept[0]
		if err := w.write(k.line); err != nil {
			return w.stop(k.at, "", err)
		}
		w.kept = w.kept[1:]
		if !passing(k.kind) {
			w.mustSync = true
			w.fresh = w.fresh.and(batch{1, k.at})
		}
		w.note(func(s *Status) { s.Written++ })
		w.count()
	}
	return nil
}

// write hands the line to the Output in one Write. A line of which all but the
// newline arrived counts as written.
func (w *Writer) write(line []byte) error {
	if w.torn {
		line = append([]byte{'\n'}, line...)
	}
	n, err := w.out.Write(line)
	if n > 0 {
		w.torn = n < len(line)
	}
	switch {
	case n >= len(line)-1:
		return nil
	case err == nil:
		return io.ErrShortWrite
	}
	return err
}

// stop notes that a record could not be written.
func (w *Writer) stop(at time.Time, prefix string, err error) error {
	w.note(func(s *Status) {
		if !s.Stopped {
			s.Stopped, s.Since = true, at
		}
		s.Why = Clean(prefix + reason(err))
	})
	return fmt.Errorf("recording has stopped: %s%w", prefix, err)
}

// again notes that it works, and writes for how long it had not; it tells
// whether that is written and to be synced too.
func (w *Writer) again(now time.Time) (warned bool, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	was := w.Status()
	if !was.Stopped || len(w.kept) > 0 {
		return false, nil
	}
	words := fmt.Sprintf("recording had stopped from %s: %s; %s lost",
		was.Since.UTC().Format(timeLayout), was.Why, records(was.Lost))
	w.note(func(s *Status) { s.Stopped, s.Since = false, time.Time{} })
	line, err := encode(Record{At: now, Entry: WarningEntry{Words: Text(words), Over: true}})
	if err != nil { // now has no year that can be written
		return false, nil
	}
	w.keep(keptLine{now, KindWarning, line})
	return true, w.flush()
}

// reason is an error without the file's path, which the operator can't do
// anything with: "no space left on device".
func reason(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return err.Error()
}

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
	mu   sync.Mutex // for all but status; held while the Output works
	out  Output
	torn bool // the Output doesn't end in a newline, or may not
	kept []keptLine
	sync bool // a record that matters is written but not synced

	statusMu sync.Mutex
	status   Status
}

// keptLine is a line that could not be written yet.
type keptLine struct {
	at   time.Time
	kind Kind
	line []byte
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
	return w.flush(stamp(r.At))
}

// Flush tries once more to write what had to wait, and syncs. The time, by the
// same clock as the records', goes into the record if it works again.
func (w *Writer) Flush(now time.Time) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.sync = true
	return w.flush(stamp(now))
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

// keep queues a line. When there are too many, the oldest passing one goes,
// then the oldest.
func (w *Writer) keep(line keptLine) {
	lost := 0
	if len(w.kept) >= maxKept {
		out := 0
		for i, k := range w.kept {
			if passing(k.kind) {
				out = i
				break
			}
		}
		w.kept = append(w.kept[:out], w.kept[out+1:]...)
		lost = 1
	}
	w.kept = append(w.kept, line)
	w.note(func(s *Status) {
		s.Lost += lost
		s.Waiting, s.Oldest = len(w.kept), w.kept[0].at
	})
}

// flush writes the queue in order, as far as it goes.
func (w *Writer) flush(now time.Time) error {
	for len(w.kept) > 0 {
		k := w.kept[0]
		if err := w.write(k.line); err != nil {
			return w.stop(k.at, "", err)
		}
		w.sync = w.sync || !passing(k.kind)
		w.kept = w.kept[1:]
		w.note(func(s *Status) {
			s.Written++
			s.Waiting = len(w.kept)
			s.Oldest = time.Time{}
			if len(w.kept) > 0 {
				s.Oldest = w.kept[0].at
			}
		})
	}
	if w.sync {
		if err := w.out.Sync(); err != nil {
			return w.stop(now, "what was written may not be safe on the disk: ", err)
		}
		w.sync = false
	}
	return w.again(now)
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

// again notes that it works, and writes for how long it had not.
func (w *Writer) again(now time.Time) error {
	was := w.Status()
	if !was.Stopped {
		return nil
	}
	words := fmt.Sprintf("recording had stopped from %s: %s; %d records lost",
		was.Since.UTC().Format(timeLayout), was.Why, was.Lost)
	w.note(func(s *Status) { *s = Status{Why: s.Why, Written: s.Written, Lost: s.Lost, Refused: s.Refused} })
	line, err := encode(Record{At: now, Entry: WarningEntry{Words: Text(words), Over: true}})
	if err != nil { // now has no year that can be written
		return nil
	}
	w.keep(keptLine{now, KindWarning, line})
	return w.flush(now)
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

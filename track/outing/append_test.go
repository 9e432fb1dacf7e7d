package outing

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// A disk runs full at every possible byte and has room again two records later:
// whatever was torn, every record is read, in its order.
func TestFullAtEveryByte(t *testing.T) {
	all := notes(5)
	size := len(logOf(t, all...))
	for room := range size {
		d := newDisk()
		d.room = room
		w := NewWriter(d, false)
		failed := -1
		for i, e := range all {
			if err := w.Append(Record{At: second(i), Entry: e}); err != nil && failed < 0 {
				failed = i
				if !errors.Is(err, errFull) || !w.Status().Stopped || !w.Status().Since.Equal(second(i)) {
					t.Fatalf("room for %d: %v, status %+v", room, err, w.Status())
				}
			}
			if failed >= 0 && i == failed+2 {
				d.set(func() { d.room = 1 << 20 })
			}
		}
		d.set(func() { d.room = 1 << 20 })
		if err := w.Flush(second(9)); err != nil || w.Status().Stopped {
			t.Fatalf("room for %d: still %v", room, err)
		}
		var got []Entry
		warned := 0
		for _, e := range entries(read(t, d.text())) {
			if warning, ok := e.(WarningEntry); ok && warning.Over {
				warned++
				continue
			}
			got = append(got, e)
		}
		if diff := cmp.Diff(all, got); diff != "" {
			t.Fatalf("room for %d (-want +got):\n%s", room, diff)
		}
		if failed >= 0 != (warned == 1) {
			t.Fatalf("room for %d: failed at %d, %d warnings", room, failed, warned)
		}
	}
}

func TestContinuingAfterATornLine(t *testing.T) {
	text := logOf(t, notes(2)...)
	for cut := range len(text) {
		d := newDisk()
		d.content.WriteString(text[:cut])
		before := entries(read(t, text[:cut]))
		again := start
		again.Continued = true
		if err := NewWriter(d, true).Append(Record{At: second(9), Entry: again}); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(append(before, again), entries(read(t, d.text()))); diff != "" {
			t.Fatalf("cut at %d (-want +got):\n%s", cut, diff)
		}
	}
}

func TestSyncsWhatMatters(t *testing.T) {
	mark := MarkEntryOf(Mark{ID: 1, At: clock0, Kind: Heard})
	for _, c := range []struct {
		entry Entry
		sync  bool
	}{
		{start, true}, {FixEntry{}, false}, {ClockEntry{}, false}, {FacingEntry{}, true}, {HoldEntry{}, true},
		{AdviceEntry{}, false}, {mark, true}, {SensorEntry{}, false}, {CheckEntry{List: ListChecklist}, true},
		{NoteEntry{}, true}, {EndEntry{}, true},
	} {
		d := newDisk()
		if err := NewWriter(d, false).Append(Record{At: clock0, Entry: c.entry}); err != nil {
			t.Error(err)
		}
		if synced := d.syncs > 0; synced != c.sync {
			t.Errorf("%s synced: %v, want %v", c.entry.Kind(), synced, c.sync)
		}
	}
}

func TestFailingSyncIsToldAndTriedAgain(t *testing.T) {
	d := newDisk()
	d.syncErr = &fs.PathError{Op: "sync", Path: "/secret/place", Err: errors.New("input/output error")}
	w := NewWriter(d, false)
	err := w.Append(Record{At: clock0, Entry: start})
	s := w.Status()
	if err == nil || !s.Stopped || s.Written != 1 || s.Why != "what was written may not be safe on the disk: input/output error" {
		t.Fatalf("error %v, status %+v", err, s)
	}
	d.set(func() { d.syncErr = nil })
	if err := w.Append(Record{At: second(1), Entry: FixEntry{}}); err != nil || w.Status().Stopped {
		t.Errorf("sync works again: %v, %+v", err, w.Status())
	}
	want := []Kind{KindStart, KindFix, KindWarning}
	var got []Kind
	for _, e := range entries(read(t, d.text())) {
		got = append(got, e.Kind())
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestClosedFile(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "outing.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	w := NewWriter(f, false)
	if err := w.Append(Record{At: clock0, Entry: start}); !errors.Is(err, os.ErrClosed) || !w.Status().Stopped {
		t.Errorf("error %v, status %+v", err, w.Status())
	}
}

// While nothing can be written, the records that matter are kept longest.
func TestKeepsWhatMatters(t *testing.T) {
	d := newDisk()
	d.room = 0
	w := NewWriter(d, false)
	for i := range maxKept {
		e := Entry(FixEntry{Satellites: i})
		if i%2 == 0 {
			e = NoteEntry{Text(fmt.Sprint(i))}
		}
		_ = w.Append(Record{At: second(i), Entry: e})
	}
	for i := range maxKept/2 + 3 {
		_ = w.Append(Record{At: second(maxKept + i), Entry: NoteEntry{Text(fmt.Sprint(maxKept + 2*i))}})
	}
	if s := w.Status(); s.Lost != maxKept/2+3 || s.Waiting != maxKept {
		t.Fatalf("status %+v", s)
	}
	d.set(func() { d.room = 1 << 30 })
	if err := w.Flush(second(9 * maxKept)); err != nil {
		t.Fatal(err)
	}
	got := Resume(read(t, d.text())).Notes
	if len(got) != maxKept || got[0].Text != "6" || got[maxKept-1].Text != fmt.Sprint(2*maxKept+4) {
		t.Errorf("%d notes from %v to %v", len(got), got[0], got[len(got)-1])
	}
	if words := w.Status().Words(second(9 * maxKept)); words != fmt.Sprintf("recording works again, %d records are lost", maxKept/2+3) {
		t.Errorf("words %q", words)
	}
}

func TestRefusesWhatIsNoRecord(t *testing.T) {
	for name, r := range map[string]Record{
		"no entry":           {At: clock0},
		"no time":            {Entry: NoteEntry{}},
		"year 10000":         {At: time.Date(9999, 12, 31, 23, 59, 59, 999999999, time.UTC), Entry: NoteEntry{}},
		"start without name": {At: clock0, Entry: StartEntry{Outing: "\x1b "}},
		"azimuth 361":        {At: clock0, Entry: HoldEntry{AzimuthDeg: NumberOf(361)}},
		"mark without kind":  {At: clock0, Entry: MarkEntry{ID: 1, Time: TimeOf(clock0)}},
	} {
		d := newDisk()
		w := NewWriter(d, false)
		err := w.Append(r)
		if err == nil || d.text() != "" || w.Status().Refused != 1 || w.Status().Stopped || !strings.Contains(err.Error(), w.Status().Why) {
			t.Errorf("%s: error %v, wrote %q, status %+v", name, err, d.text(), w.Status())
		}
	}
}

func TestConcurrentAppends(t *testing.T) {
	d := newDisk()
	w := NewWriter(d, false)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for i := range 50 {
				if err := w.Append(Record{At: second(i), Entry: NoteEntry{"together"}}); err != nil {
					t.Error(err)
				}
				_ = w.Status()
			}
		})
	}
	all.Wait()
	if n := len(read(t, d.text()).Records); n != 400 || w.Status().Written != 400 {
		t.Errorf("%d records, %d by the status, want 400", n, w.Status().Written)
	}
}

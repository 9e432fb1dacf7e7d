package outing

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"
	"time"
)

// disk is an Output in memory with room for a number of bytes; like a real one
// it takes what fits of the write that doesn't.
type disk struct {
	mu      sync.Mutex
	content bytes.Buffer
	room    int
	full    error // what a Write says that doesn't fit
	syncErr error
	syncs   int
}

var errFull = errors.New("no space left on device")

func newDisk() *disk { return &disk{room: 1 << 30, full: errFull} }

func (d *disk) Write(b []byte) (int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := min(len(b), d.room)
	d.content.Write(b[:n])
	d.room -= n
	if n < len(b) {
		return n, d.full
	}
	return n, nil
}

func (d *disk) Sync() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.syncs++
	return d.syncErr
}

func (d *disk) set(change func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	change()
}

func (d *disk) text() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.content.String()
}

// noSync is an Output of which nothing is asked but the bytes.
type noSync struct{ io.Writer }

func (noSync) Sync() error { return nil }

// clock0 is the time of the first record of invented logs.
var clock0 = time.Date(2026, 3, 25, 9, 30, 0, 0, time.UTC)

func second(n int) time.Time { return clock0.Add(time.Duration(n) * time.Second) }

// logOf writes records, a second apart, and returns the text.
func logOf(t testing.TB, entries ...Entry) string {
	t.Helper()
	d := newDisk()
	w := NewWriter(d, false)
	for i, e := range entries {
		if err := w.Append(Record{At: second(i), Entry: e}); err != nil {
			t.Fatal(err)
		}
	}
	return d.text()
}

// read reads a text that has to be readable to its end.
func read(t testing.TB, text string) Log {
	t.Helper()
	log, err := Read(strings.NewReader(text), "meadow.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	return log
}

// entries returns what the records of a log say.
func entries(log Log) []Entry {
	var all []Entry
	for _, r := range log.Records {
		all = append(all, r.Entry)
	}
	return all
}

// reasons returns the faults of a log, as line and reason.
func reasons(log Log) map[int]Reason {
	all := map[int]Reason{}
	for _, f := range log.Faults {
		all[f.Line] = f.Reason
	}
	return all
}

var start = StartEntry{Outing: "20260325T093000Z", Program: "test"}

// notes returns n numbered notes after a start.
func notes(n int) []Entry {
	all := []Entry{start}
	for i := range n {
		all = append(all, NoteEntry{Text: Text(strings.Repeat("so ", 1+i%5) + string(rune('a'+i%26)))})
	}
	return all
}

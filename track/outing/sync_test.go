package outing

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// unsafeDisk is a disk that takes what is written at once, but whose Sync takes
// until the gate is closed, or panics where there is none.
type unsafeDisk struct {
	*disk
	gate <-chan struct{}
}

func (u unsafeDisk) Sync() error {
	if u.gate == nil {
		panic("bad driver")
	}
	<-u.gate
	return u.disk.Sync()
}

// While a sync hangs, all that is recorded is written at once, so that a killed
// program loses nothing of it; that it isn't safe yet is told. Once the disk
// answers, one more sync does for all of it.
func TestWritesDontWaitForASync(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		gate := make(chan struct{})
		d := unsafeDisk{newDisk(), gate}
		r := NewRecorder(d, false)
		all := notes(20)
		for i, e := range all {
			r.Record(second(i), e)
			synctest.Wait()
			if diff := cmp.Diff(all[:i+1], entries(read(t, d.text()))); diff != "" {
				t.Fatalf("written after record %d (-want +got):\n%s", i, diff)
			}
		}
		s := r.Status()
		if s.Stopped || s.Written != 21 || s.Waiting != 0 || s.Unsynced != 21 || !s.Oldest.Equal(second(0)) {
			t.Errorf("while it hangs: %+v", s)
		}
		if words := s.Words(second(3)); words != "" {
			t.Errorf("after 3 s: %q", words)
		}
		if words := s.Words(second(30)); words != "recording is 30 s behind: the disk does not answer (21 records not safe from a power cut)" {
			t.Errorf("after 30 s: %q", words)
		}
		short, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		if err := r.Close(short); !errors.Is(err, context.DeadlineExceeded) || !strings.Contains(err.Error(), "21 records are not safe from a power cut") {
			t.Errorf("closing while it hangs: %v", err)
		}
		close(gate)
		if err := r.Close(t.Context()); err != nil {
			t.Error(err)
		}
		if s := r.Status(); s.Unsynced != 0 || !s.Oldest.IsZero() {
			t.Errorf("at the end: %+v", s)
		}
		// That of the first record, that of the others, and that of Close.
		if d.syncs > 3 {
			t.Errorf("%d syncs", d.syncs)
		}
	})
}

// What is being synced while a sync fails, and what is written meanwhile, is
// synced by the next; the record then tells of it.
func TestFailedSyncBehindTheQueue(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := newDisk()
		d.syncErr = errors.New("input/output error")
		r := NewRecorder(d, false)
		r.Record(second(0), start)
		synctest.Wait()
		r.Record(second(1), NoteEntry{"mist"})
		synctest.Wait()
		s := r.Status()
		want := "recording stopped 9 s ago: what was written may not be safe on the disk: input/output error (2 records not safe from a power cut)"
		if words := s.Words(second(9)); words != want || s.Written != 2 {
			t.Errorf("%q, want %q; %+v", words, want, s)
		}
		d.set(func() { d.syncErr = nil })
		r.Record(second(9), FixEntry{}) // of no matter, but a time to try again
		if err := r.Close(t.Context()); err != nil {
			t.Error(err)
		}
		got := entries(read(t, d.text()))
		if s := r.Status(); s.Unsynced != 0 || s.Stopped || len(got) != 4 {
			t.Fatalf("%d records, %+v", len(got), s)
		}
		if w, ok := got[3].(WarningEntry); !ok || !w.Over || !strings.HasPrefix(string(w.Words), "recording had stopped from 2026-03-25T09:30:00.000Z") {
			t.Errorf("the last record is %+v", got[3])
		}
	})
}

// A fault in the Output's own Sync is told, and writing goes on.
func TestSyncThatPanics(t *testing.T) {
	d := unsafeDisk{newDisk(), nil}
	r := NewRecorder(d, false)
	all := notes(5)
	for i, e := range all {
		r.Record(second(i), e)
	}
	if err := r.Close(t.Context()); err == nil || !strings.Contains(err.Error(), "bad driver") {
		t.Errorf("closing: %v", err)
	}
	if diff := cmp.Diff(all, entries(read(t, d.text()))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if words := r.Status().Words(second(9)); !strings.Contains(words, "writing has failed for good: bad driver") {
		t.Errorf("words %q", words)
	}
}

func TestStatusCountsRecords(t *testing.T) {
	at := second(0)
	for want, s := range map[string]Status{
		"recording stopped 9 s ago: full (1 record kept for later)":                 {Stopped: true, Since: at, Why: "full", Waiting: 1},
		"recording stopped 9 s ago: full (2 records kept for later, 1 record lost)": {Stopped: true, Since: at, Why: "full", Waiting: 2, Lost: 1},
		"recording is 9 s behind: the disk does not answer (1 record kept for later, 1 record not safe from a power cut)": {
			Waiting: 1, Unsynced: 1, Oldest: at},
		"recording works again, 1 record is lost": {Lost: 1},
		"1 record left out: no time":              {Refused: 1, Why: "no time"},
		"":                                        {Written: 1},
	} {
		if got := s.Words(second(9)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

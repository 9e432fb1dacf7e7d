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

// hanging is a disk of which each Write takes as long as told, or for ever.
type hanging struct {
	*disk
	gate <-chan struct{} // closed: it answers
}

func (h hanging) Write(b []byte) (int, error) {
	<-h.gate
	return h.disk.Write(b)
}

func TestRecorderKeepsOrderAndFlushes(t *testing.T) {
	d := newDisk()
	r := NewRecorder(d, false)
	all := notes(500)
	for i, e := range all {
		r.Record(second(i), e)
	}
	if err := r.Close(t.Context()); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(all, entries(read(t, d.text()))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	r.Record(second(600), NoteEntry{"too late"})
	if s := r.Status(); s.Refused != 1 || s.Written != 501 || s.Waiting != 0 {
		t.Errorf("after Close: %+v", s)
	}
}

// With a disk that doesn't answer, Record and Status return (in virtual time
// anything that waited for the disk would be a deadlock), what waits is told,
// and all is written once it answers.
func TestRecorderNeverWaits(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		gate := make(chan struct{})
		d := hanging{newDisk(), gate}
		r := NewRecorder(d, false)
		all := notes(20)
		for i, e := range all {
			r.Record(second(i), e)
		}
		synctest.Wait()
		s := r.Status()
		if s.Stopped || s.Waiting != 21 || !s.Oldest.Equal(second(0)) {
			t.Errorf("while it hangs: %+v", s)
		}
		if words := s.Words(second(3)); words != "" {
			t.Errorf("after 3 s: %q", words)
		}
		if words := s.Words(second(30)); words != "recording is 30 s behind: the disk does not answer (21 records kept for later)" {
			t.Errorf("after 30 s: %q", words)
		}
		short, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		if err := r.Close(short); !errors.Is(err, context.DeadlineExceeded) || !strings.Contains(err.Error(), "21 records") {
			t.Errorf("closing while it hangs: %v", err)
		}
		close(gate)
		if err := r.Close(t.Context()); err != nil {
			t.Error(err)
		}
		if diff := cmp.Diff(all, entries(read(t, d.text()))); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	})
}

func TestRecorderQueueIsBounded(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		gate := make(chan struct{})
		d := hanging{newDisk(), gate}
		r := NewRecorder(d, false)
		r.Record(clock0, start)
		synctest.Wait() // the start is in the disk's hands
		for i := range maxQueued {
			r.Record(second(i), FixEntry{Satellites: i})
		}
		for i := range 10 {
			r.Record(second(maxQueued+i), NoteEntry{"matters"})
		}
		if s := r.Status(); s.Lost != 10 || s.Waiting != maxQueued+1 {
			t.Errorf("status %+v", s)
		}
		close(gate)
		if err := r.Close(t.Context()); err == nil || !strings.Contains(err.Error(), "10 records are lost") {
			t.Errorf("closing: %v", err)
		}
		log := read(t, d.text())
		if n := len(Resume(log).Notes); n != 10 || len(log.Records) != maxQueued+1 {
			t.Errorf("%d notes in %d records", n, len(log.Records))
		}
	})
}

func TestRecorderTellsOfFullDisk(t *testing.T) {
	d := newDisk()
	d.room = 0
	r := NewRecorder(d, false)
	r.Record(clock0, start)
	if err := r.Close(t.Context()); err == nil || !strings.Contains(err.Error(), "1 record is not written: no space left on device") {
		t.Errorf("closing: %v", err)
	}
}

// broken is an Output with a fault in its own program.
type broken struct{ noSync }

func (broken) Write([]byte) (int, error) { panic("bad \x1b[31m driver") }

func TestRecorderSurvivesAPanic(t *testing.T) {
	r := NewRecorder(broken{}, false)
	r.Record(clock0, start)
	err := r.Close(t.Context())
	r.Record(second(1), NoteEntry{"still here"})
	s := r.Status()
	if err == nil || !s.Stopped || !s.Since.Equal(clock0) || !strings.Contains(s.Words(second(9)), "bad [31m driver") {
		t.Errorf("closing: %v, status %+v, words %q", err, s, s.Words(second(9)))
	}
}

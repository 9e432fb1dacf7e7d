package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/track/outing"
)

// A record that was cut off is gone on with, one that was ended or is old is
// not, and one that another program has open is left to it.
func TestRecordIsGoneOnWith(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "outings")
	now := mustTime(testNow)
	open := func(at time.Time) *recordFile {
		t.Helper()
		r, err := openRecord(folder, at)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	first := open(now)
	first.Record(now, outing.StartEntry{})
	first.Record(now.Add(time.Minute), outing.NoteEntry{Text: "mist"})

	beside := open(now.Add(time.Minute))
	if beside.path == first.path {
		t.Fatal("two programs write one record")
	}
	beside.Record(now.Add(time.Minute), outing.StartEntry{})
	beside.Record(now.Add(2*time.Minute), outing.EndEntry{})
	if err := beside.Close(); err != nil {
		t.Fatal(err)
	}
	if err := first.Close(); err != nil { // as a crash leaves it: no end
		t.Fatal(err)
	}
	if err := os.Remove(beside.path); err != nil {
		t.Fatal(err)
	}

	again := open(now.Add(3 * time.Minute))
	if again.path != first.path || again.state == nil {
		t.Fatalf("%s is not gone on with: %s", first.path, again.path)
	}
	if notes := again.state.Notes; len(notes) != 1 || notes[0].Text != "mist" {
		t.Errorf("notes %v", notes)
	}
	again.Record(now.Add(4*time.Minute), outing.EndEntry{})
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	if r := open(now.Add(5 * time.Minute)); r.path == first.path || r.state != nil {
		t.Error("an ended outing is gone on with")
	} else {
		r.Record(now.Add(5*time.Minute), outing.StartEntry{})
		r.Close()
	}
	if r := open(now.Add(24 * time.Hour)); r.state != nil {
		t.Error("yesterday's outing is gone on with")
	} else {
		r.Close()
	}
}

func TestRecordNeedsAFolder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plain")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := openRecord(file, mustTime(testNow)); err == nil {
		t.Error("a file is taken for a folder")
	}
}

package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
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

// Of the records of one second the one begun last is gone on with, and files
// that aren't named as records are aren't looked at.
func TestNewestRecordOfASecond(t *testing.T) {
	folder := t.TempDir()
	now := mustTime(testNow).UTC().Truncate(time.Second)
	second := now.Format("2006-01-02T150405Z")
	names := []string{second}
	for n := 2; n <= 11; n++ {
		names = append(names, fmt.Sprintf("%s-%d", second, n))
	}
	for _, name := range names {
		file, err := os.Create(filepath.Join(folder, name+".jsonl"))
		if err != nil {
			t.Fatal(err)
		}
		err = outing.NewWriter(file, false).Append(outing.Record{At: now, Entry: outing.StartEntry{Outing: outing.Text(name)}})
		if err := errors.Join(err, file.Close()); err != nil {
			t.Fatal(err)
		}
	}
	for _, other := range []string{"zebra.jsonl", ".jsonl", second + "-99.jsonl~", second + "-099.jsonl", second + "-1.jsonl", second + "-.jsonl", second + "x.jsonl"} {
		if err := os.WriteFile(filepath.Join(folder, other), []byte("no record\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range slices.Backward(names) { // each is the newest once those after it are gone
		r, faults := goOn(folder, now.Add(time.Minute))
		if r == nil || len(faults) > 0 {
			t.Fatalf("%s is not gone on with: %v", name, faults)
		}
		if r.name != name || filepath.Base(r.path) != name+".jsonl" {
			t.Fatalf("gone on with %s in %s, want %s", r.name, r.path, name)
		}
		if err := errors.Join(r.Close(), os.Remove(r.path)); err != nil {
			t.Fatal(err)
		}
	}
	if r, faults := goOn(folder, now.Add(time.Minute)); r != nil || len(faults) > 0 {
		t.Errorf("gone on with what is no record: %+v %v", r, faults)
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

package outing

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A real file system of 64 kB that runs full in mid-outing: the writer says so,
// keeps what matters, and writes it once there is room again.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		if os.Getenv("CI") == "" {
			t.Skipf("no small file system can be mounted here: %v", err)
		}
		t.Fatal(err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	ballast := filepath.Join(dir, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 48<<10), 0o644); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "outing.jsonl")
	out, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	w := NewWriter(out, false)
	want := []Entry{start}
	if err := w.Append(Record{At: clock0, Entry: start}); err != nil {
		t.Fatal(err)
	}
	stopped := 0
	for i := 1; i < 400; i++ {
		note := NoteEntry{Text(strings.Repeat("n", i%37) + "x")}
		want = append(want, note)
		if w.Append(Record{At: second(i), Entry: note}) != nil && stopped == 0 {
			stopped = i
		}
	}
	s := w.Status()
	if stopped == 0 || !s.Stopped || !s.Since.Equal(second(stopped)) || s.Why != "no space left on device" || s.Waiting != 400-stopped {
		t.Fatalf("stopped at record %d; status %+v", stopped, s)
	}
	if words := s.Words(second(400)); !strings.HasPrefix(words, "recording stopped ") || !strings.Contains(words, "no space left on device") {
		t.Errorf("words %q", words)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	want = append(want, EndEntry{})
	if err := w.Append(Record{At: second(400), Entry: EndEntry{}}); err != nil {
		t.Fatalf("with room again: %v", err)
	}
	if s := w.Status(); s.Stopped || s.Waiting != 0 || s.Words(second(400)) != "" {
		t.Errorf("with room again: %+v", s)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	got := entries(read(t, string(text)))
	if len(got) != len(want)+1 {
		t.Fatalf("%d records, want %d and a warning", len(got), len(want))
	}
	for i, e := range want {
		if got[i] != e {
			t.Fatalf("record %d is %v, want %v", i, got[i], e)
		}
	}
	if warning, ok := got[len(want)].(WarningEntry); !ok || !strings.Contains(string(warning.Words), "recording had stopped") {
		t.Errorf("last record %v, want the warning that recording had stopped", got[len(want)])
	}
}

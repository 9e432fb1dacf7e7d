package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/outing"
)

// The program is killed in mid-pass. Every line of its record can be read, and
// the next start has the facing and the marks again.
func TestKilledAndTakenUp(t *testing.T) {
	w, err := world.New(context.Background(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	elements := writeElements(t, w.Satellites[0].Set)
	state := filepath.Join(folder, "state")
	args := []string{"--elements", elements, "--site", "58.3127,14.0864,131", "--period", "30s",
		"--first", time.Now().Add(5 * time.Second).UTC().Format(time.RFC3339)}

	term := inTerminalWith(t, 80, 24, []string{"XDG_STATE_HOME=" + state}, append(args, "--facing", "105")...)
	term.await("BURST", "of ahead")
	term.press("Space")
	term.await("1 heard")
	files, err := filepath.Glob(filepath.Join(state, "foreaim", "outings", "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("records %q, %v", files, err)
	}
	// The screen is ahead of the disk by a moment.
	var log outing.Log
	marked := func() bool {
		file, err := os.Open(files[0])
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		if log, err = outing.Read(file, files[0]); err != nil {
			t.Fatal(err)
		}
		return len(outing.Resume(log).Marks) > 0
	}
	for deadline := time.Now().Add(10 * time.Second); !marked(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("the mark doesn't reach the record")
		}
	}
	shell := strings.TrimSpace(term.tmux("display-message", "-p", "#{pane_pid}"))
	if out, err := exec.Command("pkill", "-KILL", "-P", shell).CombinedOutput(); err != nil {
		t.Fatalf("pkill: %v %s", err, out)
	}
	if status := term.ended(); status != "137" { // 128 + SIGKILL
		t.Errorf("exit status %s after a kill", status)
	}
	if marked(); len(log.Faults) != 0 {
		t.Errorf("faults in the record: %v", log.Faults)
	}

	term = inTerminalWith(t, 80, 24, []string{"XDG_STATE_HOME=" + state}, args...)
	screen := term.await("BURST", "1 heard")
	if strings.Contains(screen, "set what is ahead") {
		t.Errorf("the facing is lost:\n%s", screen)
	}
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	if again, _ := filepath.Glob(filepath.Join(state, "foreaim", "outings", "*.jsonl")); len(again) != 1 {
		t.Errorf("records %q, want the one gone on with", again)
	}
	if marked(); !outing.Resume(log).Ended {
		t.Error("the end is not recorded")
	}
}

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"foreaim/track/outing"
)

// smallDisk mounts a file system of 64 kB. It skips only where there is no right
// to mount one and CI is unset.
func smallDisk(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		if os.Getenv("CI") == "" {
			t.Skipf("no small file system can be mounted here: %v", err)
		}
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// fill fills a file system to the last byte, and returns the file to remove.
func fill(t *testing.T, dir string) string {
	t.Helper()
	ballast := filepath.Join(dir, "ballast")
	file, err := os.Create(ballast)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for range 1 << 20 {
		if _, err = file.Write(make([]byte, 1024)); err != nil {
			return ballast
		}
	}
	t.Fatal("the file system doesn't get full")
	return ""
}

// recordFails are the words of a record that can't be written, long and short.
var recordFails = regexp.MustCompile(`Recording stopped \d+ s ago: no space left|RECORDING STOPPED`)

// onFullDisk starts the program in mid-pass, fills the disk of its record, and
// presses keys until it says that recording has stopped.
func onFullDisk(t *testing.T, columns int) (term *terminal, disk, ballast string, noise int) {
	t.Helper()
	disk = smallDisk(t)
	w := emberlingRising(t, time.Now().Add(-time.Minute))
	term = inTerminalWith(t, columns, 24, []string{"XDG_STATE_HOME=" + disk}, "--elements", writeElements(t, w.Satellites[0].Set),
		"--site", "58.3127,14.0864,131", "--facing", fmt.Sprint(facingDeg), "--period", "5s", "--length", "500ms",
		"--first", time.Now().UTC().Format(time.RFC3339Nano))
	term.await("BURST", "of ahead")
	ballast = fill(t, disk)
	// The page that the record ends in still has room for some entries.
	for !recordFails.MatchString(term.screen()) {
		if noise++; noise > 200 {
			t.Fatalf("%d marks, and recording goes on:\n%s", noise, term.screen())
		}
		pressNoise(term, noise)
	}
	return term, disk, ballast, noise
}

// pressNoise marks the noise for the n-th time and waits for the answer.
func pressNoise(term *terminal, n int) {
	term.t.Helper()
	term.press("n")
	term.awaitWhere(fmt.Sprintf("the answer to the mark %d of the noise", n), func(s string) bool {
		return strings.Contains(s, "NOISE UP") == (n%2 == 1)
	})
}

var silentShown = regexp.MustCompile(`heard \d+ silent`)

// With a full disk the pass goes on, and the screen says that recording has
// stopped. With room again all that matters is written, and how long it was not.
func TestPassGoesOnWithFullDisk(t *testing.T) {
	t.Parallel()
	term, disk, ballast, noise := onFullDisk(t, 160)
	term.await("Recording stopped", "no space left on device", "kept for later")
	noise++
	pressNoise(term, noise)
	term.press("Space")
	silent := silentShown.FindString(term.await("1 heard"))
	term.awaitWhere("another silent burst", func(s string) bool {
		now := silentShown.FindString(s)
		return now != "" && now != silent && strings.Contains(s, "BURST") && recordFails.MatchString(s)
	})

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	noise++
	pressNoise(term, noise) // tried again with the next entry
	term.awaitWhere("recording", func(s string) bool { return !recordFails.MatchString(s) })
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	log, state := readRecord(t, onlyRecord(t, disk))
	for _, f := range log.Faults {
		if f.Reason != outing.Cut {
			t.Error(f)
		}
	}
	heard, _ := tallyOf(state.Marks)
	if marks := noiseMarks(log); marks != noise || heard != 1 {
		t.Errorf("the record has %d marks of the noise and %d heard, want %d and 1", marks, heard, noise)
	}
	told := slices.ContainsFunc(log.Records, func(r outing.Record) bool {
		e, ok := r.Entry.(outing.WarningEntry)
		return ok && strings.HasPrefix(string(e.Words), "recording had stopped from ") && strings.Contains(string(e.Words), "no space left on device")
	})
	if !told {
		t.Error("the record doesn't tell that it had stopped")
	}
}

// Left with the disk still full, on a narrow screen: what isn't written is told.
func TestLeftWithFullDisk(t *testing.T) {
	t.Parallel()
	term, disk, _, _ := onFullDisk(t, 80)
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	told := regexp.MustCompile(`foreaim: warning: .*: recording has stopped, \d+ records? (is|are) not written: no space left on device`)
	if screen := term.tmux("capture-pane", "-p", "-J", "-S", "-"); !told.MatchString(screen) {
		t.Errorf("after the end the screen is\n%s", screen)
	}
	readRecord(t, onlyRecord(t, disk))
}

package outing

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"
)

// recordForever appends numbered notes to a file, and says each number on
// standard output once Append has returned. It goes on from the last number in
// the file, and ends only by being killed.
func recordForever(file string) int {
	out, err := os.OpenFile(file, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	log, err := Read(out, file)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	state := Resume(log)
	w := NewWriter(out, true)
	begin := start
	begin.Continued = len(log.Records) > 0
	next := len(state.Notes)
	entry := Entry(begin)
	for {
		if err := w.Append(Record{At: second(next), Entry: entry}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		if _, isNote := entry.(NoteEntry); isNote {
			fmt.Println(next)
			next++
		}
		entry = NoteEntry{Text: Text(strconv.Itoa(next))}
	}
}

// A process that records is killed at 200 random moments and goes on each time:
// every record that was acknowledged is there and in its order, and at most the
// one under way is missing.
func TestKilledAtRandomMoments(t *testing.T) {
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "outing.jsonl")
	acknowledged := 0
	for kill := range 200 {
		acknowledged = max(acknowledged, recordAndKill(t, program, file))
		in, err := os.Open(file)
		if os.IsNotExist(err) && acknowledged == 0 {
			continue // killed before it had opened the file
		}
		if err != nil {
			t.Fatal(err)
		}
		log, err := Read(in, file)
		in.Close()
		if err != nil {
			t.Fatal(err)
		}
		notes := Resume(log).Notes
		for i, n := range notes {
			if n.Text != strconv.Itoa(i) {
				t.Fatalf("kill %d: note %d is %q", kill, i, n.Text)
			}
		}
		// The kill may come between a record and its acknowledgement.
		if len(notes) != acknowledged && len(notes) != acknowledged+1 {
			t.Fatalf("kill %d: %d records, %d acknowledged; faults %v", kill, len(notes), acknowledged, log.Faults)
		}
		for _, f := range log.Faults {
			if f.Reason != Cut {
				t.Fatalf("kill %d: %v", kill, f)
			}
		}
		acknowledged = len(notes)
	}
	if acknowledged < 200 {
		t.Errorf("only %d records in 200 runs: the kills came too early to say anything", acknowledged)
	}
	t.Logf("%d records in 200 runs", acknowledged)
}

// recordAndKill returns how many records were acknowledged before the kill.
func recordAndKill(t *testing.T, program, file string) int {
	t.Helper()
	child := exec.Command(program)
	child.Env = append(os.Environ(), recordUntilKilled+"="+file)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	acknowledged := 0
	wait := rand.IntN(20) // records before the kill; 0: perhaps before the first
	lines := bufio.NewScanner(out)
	kill := func() {
		time.Sleep(time.Duration(rand.IntN(1000)) * time.Microsecond)
		child.Process.Kill()
	}
	if wait == 0 {
		kill()
	}
	for seen := 0; lines.Scan(); {
		n, err := strconv.Atoi(lines.Text())
		if err != nil {
			break // cut by the kill
		}
		acknowledged = n + 1
		if seen++; seen == wait {
			kill()
		}
	}
	child.Wait()
	return acknowledged
}

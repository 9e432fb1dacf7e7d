package store

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"foreaim/track/elements"
)

// importing is the environment variable that makes the test binary a process
// that imports: the folder, the process's number and how many imports.
const importing = "FOREAIM_TEST_IMPORT"

func TestMain(m *testing.M) {
	if task := os.Getenv(importing); task != "" {
		os.Exit(importMany(strings.Split(task, "|")))
	}
	os.Exit(m.Run())
}

// importMany imports four sets at a time and says each number once it is kept.
func importMany(task []string) int {
	process, _ := strconv.Atoi(task[1])
	count, _ := strconv.Atoi(task[2])
	s, err := Open(task[0])
	for n := 0; n < count && err == nil; n++ {
		var counts Counts
		if counts, err = s.Import(context.Background(), setsOf(process, n)); err == nil {
			fmt.Println(n, counts.New+counts.Older+counts.Known)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// setsOf are the sets of one import: two objects of the process's own and two
// that all processes write, in three files.
func setsOf(process, n int) []elements.Set {
	own := 10_000*(process+1) + n
	return []elements.Set{invented(own, 0), invented(own+5_000, 0), invented(100_000, 1000*process+n), invented(100_001, 1000*process+n)}
}

// start runs such a process; what it says comes line by line.
func start(t *testing.T, folder string, process, count int) (*exec.Cmd, *bufio.Scanner) {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.Command(program)
	child.Env = append(os.Environ(), fmt.Sprintf("%s=%s|%d|%d", importing, folder, process, count))
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	if err == nil {
		err = child.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	return child, bufio.NewScanner(out)
}

// kept tells whether all sets of an import are in the store.
func kept(t *testing.T, s *Store, process, n int) bool {
	t.Helper()
	for _, set := range setsOf(process, n) {
		found := false
		for _, got := range mustHistory(t, s, ObjectOf(set)) {
			found = found || content(got) == content(set)
		}
		if !found {
			return false
		}
	}
	return true
}

// Two processes import a hundred times each at the same time, and a third is
// killed again and again while it does: every import that was acknowledged is
// there, and no line of any file is damaged.
func TestTwoProcessesAndOneKilled(t *testing.T) {
	const imports = 100
	s := open(t, t.TempDir())
	var running sync.WaitGroup
	for process := range 2 {
		child, said := start(t, s.folder, process, imports)
		running.Go(func() {
			n := 0
			for ; said.Scan(); n++ {
				if want := fmt.Sprint(n, 4); said.Text() != want {
					t.Errorf("process %d said %q, want %q", process, said.Text(), want)
				}
			}
			if err := child.Wait(); err != nil || n != imports {
				t.Errorf("process %d: %v after %d imports, want %d", process, err, n, imports)
			}
		})
	}
	acknowledged := 0
	for range 20 {
		child, said := start(t, s.folder, 2, 900)
		go func() {
			time.Sleep(10*time.Millisecond + rand.N(40*time.Millisecond))
			child.Process.Kill()
		}()
		for n := 0; said.Scan(); n++ {
			acknowledged = max(acknowledged, n+1)
		}
		child.Wait() // says that it was killed
	}
	running.Wait()
	if acknowledged == 0 {
		t.Error("the killed process was killed too early every time: nothing was tested")
	}
	for process, count := range []int{imports, imports, acknowledged} {
		for n := range count {
			if !kept(t, s, process, n) {
				t.Errorf("import %d of process %d is not all there", n, process)
			}
		}
	}
	mustNewest(t, s) // no damage
}

// 200 imports at once through one process.
func TestImportsAtOnce(t *testing.T) {
	s := open(t, t.TempDir())
	var running sync.WaitGroup
	for n := range 200 {
		running.Go(func() {
			if _, err := s.Import(t.Context(), setsOf(n%2, n/2)); err != nil {
				t.Error(err)
			}
		})
	}
	running.Wait()
	for n := range 200 {
		if !kept(t, s, n%2, n/2) {
			t.Errorf("import %d is not all there", n)
		}
	}
}

// Waiting for another writer can be broken off.
func TestLockedOut(t *testing.T) {
	s := open(t, t.TempDir())
	unlock, err := s.lock(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.Import(ctx, setsOf(0, 0)); err == nil || !strings.Contains(err.Error(), "another program") {
		t.Errorf("error %v, want one that says that another program is writing", err)
	}
	unlock()
	mustImport(t, s, setsOf(0, 0)...)
}

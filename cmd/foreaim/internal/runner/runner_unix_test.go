//go:build unix

package runner

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
)

// heldOpen makes a pipe on disk: who reads it hangs until the test writes.
func heldOpen(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(file, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// Go returns while its commands hang on a pipe that nobody writes to: the test
// would never get to Close otherwise, which ends them all.
func TestGoNeverWaits(t *testing.T) {
	r := New(nil)
	pipe := heldOpen(t)
	results := make(chan Result, 100)
	for range 100 {
		r.Go(Command{Name: "blocked", Args: []string{"cat", pipe}}, func(got Result) { results <- got })
	}
	r.Close()
	refused, stopped := 0, 0
	for range 100 {
		switch got := <-results; {
		case errors.Is(got.Err, ErrTooMany):
			refused++
		case errors.Is(got.Err, ErrStopped):
			stopped++
		default:
			t.Errorf("%+v", got)
		}
	}
	if refused != 100-maxRunning || stopped != maxRunning {
		t.Errorf("%d refused, %d stopped", refused, stopped)
	}
	r.Close()
	r.Go(sh("echo late"), func(got Result) { results <- got })
	if got := <-results; !errors.Is(got.Err, ErrStopped) || got.Name != "sh" {
		t.Errorf("after the end: %+v", got)
	}
}

// Close has ended everything when it returns, even what ignores SIGTERM.
func TestCloseEndsEverything(t *testing.T) {
	r := New(nil)
	file := filepath.Join(t.TempDir(), "pids")
	var results atomic.Int32
	r.Go(sh(`trap "" TERM; sleep 1000 & echo $$ $! > `+file+`; while :; do sleep 0.1; done`), func(Result) { results.Add(1) })
	pids := pidsIn(t, file, 2)
	r.Close()
	if results.Load() != 1 {
		t.Errorf("%d results at the end of Close", results.Load())
	}
	if leader := pids[0]; syscall.Kill(leader, 0) == nil {
		t.Errorf("%d is still there", leader)
	}
	waitFor(t, "its child is gone", func() bool { return gone(pids[1]) })
}

func TestPanicOfAReceiverIsTold(t *testing.T) {
	lines := make(chan string, 1)
	r := New(func(line string) { lines <- line; panic("again") })
	defer r.Close()
	r.Go(Command{Name: "start\x1b recorder", Args: []string{"true"}}, func(Result) { panic("oh\nno") })
	if got, want := <-lines, "start recorder: panic: oh no"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r.Go(sh("true"), nil)
}

func TestResultsComeOnceEach(t *testing.T) {
	r := New(nil)
	results := make(chan Result, 3)
	for _, word := range []string{"a", "b", "c"} {
		r.Go(Command{Args: []string{"echo", word}}, func(got Result) { results <- got })
	}
	var words []string
	for range 3 {
		words = append(words, (<-results).Output)
	}
	r.Close()
	slices.Sort(words)
	if strings.Join(words, "") != "abc" || len(results) != 0 {
		t.Errorf("%q and %d more", words, len(results))
	}
}

//go:build unix

package runner

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

func sh(script string) Command { return Command{Args: []string{"sh", "-c", script}} }

// waitFor waits until something holds; the test fails when it never does.
func waitFor(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 2000 {
		if holds() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("never: %s", what)
}

// gone tells whether no process has the id, or it is dead and not yet buried.
func gone(pid int) bool {
	if syscall.Kill(pid, 0) != nil {
		return true
	}
	stat, err := os.ReadFile(filepath.Join("/proc", strconv.Itoa(pid), "stat"))
	return err == nil && strings.Contains(string(stat), ") Z ")
}

// pidsIn reads the process ids that a script has written to a file.
func pidsIn(t *testing.T, file string, count int) []int {
	t.Helper()
	var pids []int
	waitFor(t, "the script writes its process ids", func() bool {
		data, _ := os.ReadFile(file)
		pids = nil
		for f := range strings.FieldsSeq(string(data)) {
			pid, err := strconv.Atoi(f)
			if err != nil {
				return false
			}
			pids = append(pids, pid)
		}
		return len(pids) == count && strings.HasSuffix(string(data), "\n")
	})
	return pids
}

func TestRunTellsWhatCame(t *testing.T) {
	for _, c := range []struct {
		name    string
		command Command
		status  int
		output  string
		err     string // "" for none
	}{
		{"done", sh("echo one; echo two >&2"), 0, "one\ntwo", ""},
		{"failed", sh("echo starting; echo no device >&2; exit 3"), 3, "starting\nno device", "exit status 3: no device"},
		{"failed silently", sh("exit 4"), 4, "", "exit status 4"},
		{"ended by itself through a signal", sh("kill -9 $$"), -1, "", "signal: killed"},
		{"missing", Command{Args: []string{"no-such-program-here"}}, -1, "", "no such program"},
		{"missing with a path", Command{Name: "recorder", Args: []string{"/nowhere/rec"}}, -1, "", `"/nowhere/rec": no such program`},
		{"not a program", Command{Args: []string{"/"}}, -1, "", `exec: "/": is a directory`},
		{"no arguments", Command{}, -1, "", "the command is empty: no such program"},
		{"NUL", Command{Args: []string{"sh", "a\x00b"}}, -1, "", "fork/exec"},
		{"its input is closed", Command{Args: []string{"cat"}}, 0, "", ""},
		{"input", Command{Args: []string{"cat"}, Input: []byte("a\nb\x1b[2J\n")}, 0, "a\nb[2J", ""},
		{"input that nobody reads", Command{Args: []string{"true"}, Input: make([]byte, 1<<20)}, 0, "", ""},
	} {
		r := run(context.Background(), c.command)
		wrong := r.Err == nil != (c.err == "") || r.Err != nil && !strings.Contains(r.Err.Error(), c.err)
		if wrong || r.Status != c.status || r.Output != c.output || r.Cut || r.Took <= 0 {
			t.Errorf("%s: %+v, error %v", c.name, r, r.Err)
		}
		if r.Err != nil && strings.ContainsAny(r.Err.Error(), "\n\x00") {
			t.Errorf("%s: error %q", c.name, r.Err)
		}
	}
}

func TestRunKeepsTheEndOfLongOutput(t *testing.T) {
	r := run(context.Background(), sh("i=0; while [ $i -lt 5000 ]; do echo line $i; i=$((i+1)); done"))
	if !r.Cut || len(r.Output) > maxOutput || !strings.HasSuffix(r.Output, "line 4998\nline 4999") || r.Err != nil {
		t.Errorf("cut %v, %d bytes, error %v, …%q", r.Cut, len(r.Output), r.Err, r.Output[max(0, len(r.Output)-30):])
	}
}

// A command is over with its program; what that left behind goes too.
func TestRunClearsUp(t *testing.T) {
	file := filepath.Join(t.TempDir(), "pids")
	r := run(context.Background(), sh("sleep 1000 & echo $! > "+file+"; echo here"))
	if r.Err != nil || r.Status != 0 || r.Output != "here" {
		t.Errorf("%+v", r)
	}
	pid := pidsIn(t, file, 1)[0]
	waitFor(t, "what it left behind is gone", func() bool { return gone(pid) })
}

// At the time-out the whole group goes, whether it listens to SIGTERM or not.
func TestRunEndsAllThatHangs(t *testing.T) {
	for name, trap := range map[string]string{"listens": "", "ignores SIGTERM": `trap "" TERM; `} {
		file := filepath.Join(t.TempDir(), "pids")
		c := sh(trap + `sleep 1000 & echo $$ $! > ` + file + `; wait; sleep 1000`)
		c.Timeout, c.Grace = 300*time.Millisecond, 100*time.Millisecond
		r := run(context.Background(), c)
		if !errors.Is(r.Err, ErrTimeout) || errors.Is(r.Err, ErrStuck) || r.Status != -1 {
			t.Errorf("%s: %+v", name, r)
		}
		for _, pid := range pidsIn(t, file, 2) {
			waitFor(t, name+": "+strconv.Itoa(pid)+" is gone", func() bool { return gone(pid) })
		}
	}
}

// A recorder gets the chance to finish its file.
func TestRunAsksBeforeItKills(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	file := filepath.Join(t.TempDir(), "pids")
	c := sh(`trap "echo finished; exit 0" TERM; echo $$ > ` + file + `; while :; do sleep 0.05; done`)
	c.Grace = 20 * time.Second
	go func() {
		pidsIn(t, file, 1)
		cancel()
	}()
	if r := run(ctx, c); !strings.HasSuffix(r.Output, "finished") || !errors.Is(r.Err, ErrStopped) || r.Status != 0 {
		t.Errorf("%+v", r)
	}
}

// What leaves the session keeps its end of the output open: nobody waits for it.
func TestRunDoesNotWaitForDaemons(t *testing.T) {
	if _, err := os.Stat("/usr/bin/setsid"); err != nil && os.Getenv("CI") == "" {
		t.Skip("no setsid here")
	}
	file := filepath.Join(t.TempDir(), "pids")
	r := run(context.Background(), sh(`setsid sh -c 'echo $$ > `+file+`; exec sleep 1000' & while [ ! -s `+file+` ]; do sleep 0.02; done; echo here`))
	pid := pidsIn(t, file, 1)[0]
	if gone(pid) {
		t.Error("the daemon is gone, so nothing was tested")
	}
	_ = syscall.Kill(pid, syscall.SIGKILL)
	if r.Err != nil || r.Output != "here" {
		t.Errorf("%+v", r)
	}
}

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// programFolder is where this run of the tests has the real program.
func programFolder() string {
	return filepath.Join(os.TempDir(), fmt.Sprintf("foreaim-test-%d", os.Getpid()))
}

// program builds foreaim once for all tests that run the real thing.
var program = sync.OnceValues(func() (string, error) {
	if err := os.Mkdir(programFolder(), 0o700); err != nil {
		return "", err
	}
	path := filepath.Join(programFolder(), "foreaim")
	out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

// swept takes the program away when all tests have run.
type swept struct{ *testing.M }

func (s swept) Run() int {
	defer os.RemoveAll(programFolder())
	return s.M.Run()
}

// built is the program, built by now.
func built(t *testing.T) string {
	t.Helper()
	foreaim, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return foreaim
}

// terminal is a real terminal, tmux's, with foreaim running in it.
type terminal struct {
	t      *testing.T
	socket string
	status string // the file that tells how foreaim ended
}

// inTerminal runs foreaim in a terminal of the given size. It skips only where
// tmux is missing and CI is unset.
func inTerminal(t *testing.T, columns, rows int, args ...string) *terminal {
	t.Helper()
	return inTerminalWith(t, columns, rows, nil, args...)
}

// inTerminalWith is inTerminal with variables of the environment, NAME=VALUE.
func inTerminalWith(t *testing.T, columns, rows int, env []string, args ...string) *terminal {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil && os.Getenv("CI") == "" {
		t.Skip("tmux is missing")
	}
	foreaim := built(t)
	folder := t.TempDir()
	term := &terminal{t, filepath.Join(folder, "tmux"), filepath.Join(folder, "status")}
	command := append([]string{"LC_ALL=C.UTF-8", "XDG_CONFIG_HOME=" + folder, "XDG_DATA_HOME=" + folder, "XDG_STATE_HOME=" + folder}, env...)
	command = append(append(command, foreaim), args...)
	term.tmux(append([]string{
		"start-server", ";", "set", "-g", "status", "off", ";", "set", "-g", "remain-on-exit", "on", ";",
		"set", "-g", "default-terminal", "tmux-256color", ";",
		"new-session", "-d", "-x", fmt.Sprint(columns), "-y", fmt.Sprint(rows), "--",
		"sh", "-c", `"$@"; echo $? >"$0.new"; mv "$0.new" "$0"`, term.status, "env",
	}, command...)...)
	t.Cleanup(func() { _ = exec.Command("tmux", "-S", term.socket, "kill-server").Run() })
	return term
}

func (term *terminal) tmux(args ...string) string {
	term.t.Helper()
	out, err := exec.Command("tmux", append([]string{"-S", term.socket, "-f", os.DevNull}, args...)...).CombinedOutput()
	if err != nil {
		term.t.Fatalf("tmux %q: %v: %s", args, err, out)
	}
	return string(out)
}

// screen returns what can be read now.
func (term *terminal) screen() string {
	term.t.Helper()
	return term.tmux("capture-pane", "-p")
}

// press presses keys, in tmux's names.
func (term *terminal) press(keys ...string) {
	term.t.Helper()
	term.tmux(append([]string{"send-keys"}, keys...)...)
}

// await waits until the screen shows all of the words, and returns it.
func (term *terminal) await(words ...string) string {
	term.t.Helper()
	return term.awaitWhere(fmt.Sprintf("%q", words), func(screen string) bool {
		for _, w := range words {
			if !strings.Contains(screen, w) {
				return false
			}
		}
		return true
	})
}

// awaitWhere waits until the screen is right, and returns it.
func (term *terminal) awaitWhere(what string, right func(screen string) bool) string {
	term.t.Helper()
	var screen string
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		if screen = term.screen(); right(screen) {
			return screen
		}
	}
	term.t.Fatalf("%s doesn't come; the screen is\n%s", what, screen)
	return ""
}

// ended waits for the program to end and returns its exit status. A shell wrote
// it down: tmux 3.3 doesn't always tell.
func (term *terminal) ended() string {
	term.t.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		if status, err := os.ReadFile(term.status); err == nil {
			return strings.TrimSpace(string(status))
		}
	}
	term.t.Fatalf("the program doesn't end; the screen is\n%s", term.screen())
	return ""
}

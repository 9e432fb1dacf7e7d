//go:build unix

package tui

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"
)

// output collects what a terminal gets.
type output struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.b.Write(p)
}

func (o *output) String() string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.b.String()
}

// The sequences of the alternate screen and of the cursor (ECMA-48 private
// modes 1049 and 25, as terminals commonly have them).
const (
	enterAlt, leaveAlt     = "\x1b[?1049h", "\x1b[?1049l"
	hideCursor, showCursor = "\x1b[?25l", "\x1b[?25h"
)

// The terminal is as it was before after every way to leave the program.
func TestTerminalRestored(t *testing.T) {
	for _, c := range []struct {
		name   string
		env    string
		leave  func(tty *os.File, p *os.Process) error
		status int
		says   string // after the screen is restored
	}{
		{"q", "", key("q"), 0, ""},
		{"Ctrl-C", "", key("\x03"), 1, "interrupted"},
		{"SIGINT", "", sig(syscall.SIGINT), 1, "interrupted"},
		{"SIGTERM", "", sig(syscall.SIGTERM), 0, ""},
		{"SIGHUP", "", sig(syscall.SIGHUP), 0, ""},
		{"panic in a frame", childPanic + "=update", nil, 1, "struck by lightning"},
		{"panic in a command", childPanic + "=command", nil, 1, "struck by lightning"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			master, tty, err := pty.Open()
			if err != nil {
				t.Skip("no pseudo terminals here:", err)
			}
			defer master.Close()
			defer tty.Close()
			if err := pty.Setsize(master, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
				t.Fatal(err)
			}
			before, err := term.GetState(int(tty.Fd()))
			if err != nil {
				t.Fatal(err)
			}
			var screen output
			go func() {
				buffer := make([]byte, 4096)
				for {
					n, err := master.Read(buffer)
					_, _ = screen.Write(buffer[:n])
					if err != nil {
						return
					}
				}
			}()
			child := exec.Command(os.Args[0])
			child.Env = append(os.Environ(), childStory+"=move", "TERM=xterm-256color", c.env)
			child.Stdin, child.Stdout, child.Stderr = tty, tty, tty
			child.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
			if err := child.Start(); err != nil {
				t.Fatal(err)
			}
			ended := make(chan error, 1)
			go func() { ended <- child.Wait() }()
			until(t, &screen, enterAlt)
			until(t, &screen, "LARKSPUR-2")
			if c.leave != nil {
				if err := c.leave(master, child.Process); err != nil {
					t.Fatal(err)
				}
			}
			select {
			case <-ended:
			case <-time.After(10 * time.Second):
				_ = child.Process.Kill()
				t.Fatalf("still running 10 s later:\n%q", screen.String())
			}
			if got := child.ProcessState.ExitCode(); got != c.status {
				t.Errorf("exit status %d, want %d", got, c.status)
			}
			until(t, &screen, leaveAlt)
			after, err := term.GetState(int(tty.Fd()))
			if err != nil {
				t.Fatal(err)
			}
			if *before != *after {
				t.Errorf("the terminal's state is %v, was %v", after, before)
			}
			if c.says != "" {
				until(t, &screen, c.says)
			}
			all := screen.String()
			if strings.LastIndex(all, leaveAlt) < strings.LastIndex(all, enterAlt) {
				t.Error("the alternate screen is not left")
			}
			if strings.LastIndex(all, showCursor) < strings.LastIndex(all, hideCursor) {
				t.Error("the cursor stays hidden")
			}
			if c.says != "" && strings.LastIndex(all, c.says) < strings.LastIndex(all, leaveAlt) {
				t.Errorf("%q is told before the screen is restored", c.says)
			}
		})
	}
}

// until waits until the terminal has got a text.
func until(t *testing.T, o *output, text string) {
	t.Helper()
	for range 1000 {
		if strings.Contains(o.String(), text) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("%q never comes:\n%q", text, o.String())
}

func key(k string) func(*os.File, *os.Process) error {
	return func(tty *os.File, _ *os.Process) error {
		_, err := tty.WriteString(k)
		return err
	}
}

func sig(s syscall.Signal) func(*os.File, *os.Process) error {
	return func(_ *os.File, p *os.Process) error { return p.Signal(s) }
}

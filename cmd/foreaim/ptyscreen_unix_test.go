//go:build unix

package main

import (
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// ptyScreen is the real program on a pseudo-terminal with a terminal emulator
// behind it: quicker to start and to kill than one in tmux.
type ptyScreen struct {
	t       *testing.T
	command *exec.Cmd
	keys    *os.File
	drained chan struct{} // closed when all that it wrote has been drawn

	mu     sync.Mutex
	screen *vt.Emulator
}

// onPty starts the program on a terminal of 80 columns and 24 rows.
func onPty(t *testing.T, env []string, args ...string) *ptyScreen {
	t.Helper()
	p := &ptyScreen{t: t, command: exec.Command(built(t), args...), drained: make(chan struct{}), screen: vt.NewEmulator(80, 24)}
	p.command.Env = append(append(os.Environ(), "TERM=xterm-256color", "LC_ALL=C.UTF-8"), env...)
	var err error
	if p.keys, err = pty.StartWithSize(p.command, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(p.drained)
		_, _ = io.Copy(p, p.keys) // its end is an error on Linux
	}()
	return p
}

// Write draws what the program writes.
func (p *ptyScreen) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.screen.Write(b)
}

func (p *ptyScreen) text() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.screen.String()
}

// press sends keys as a terminal does.
func (p *ptyScreen) press(keys string) {
	p.t.Helper()
	if _, err := p.keys.WriteString(keys); err != nil {
		p.t.Fatal(err)
	}
}

// await waits until the screen is right.
func (p *ptyScreen) await(what string, right func(screen string) bool) string {
	p.t.Helper()
	var text string
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(2 * time.Millisecond) {
		if text = p.text(); right(text) {
			return text
		}
	}
	p.kill()
	p.t.Fatalf("%s doesn't come; the screen is\n%s", what, text)
	return ""
}

func (p *ptyScreen) awaitText(words string) string {
	p.t.Helper()
	return p.await(words, func(screen string) bool { return strings.Contains(screen, words) })
}

// kill ends the program with SIGKILL.
func (p *ptyScreen) kill() {
	_ = p.command.Process.Kill()
	_ = p.command.Wait() // killed
	<-p.drained
	_ = p.keys.Close()
}

package plainstart_test

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"testing"

	_ "foreaim/tui/plainstart"

	_ "github.com/charmbracelet/bubbletea" // linked, as in the program
	"github.com/creack/pty"
)

// childVariable tells the test binary that it is the program under test.
const childVariable = "PLAINSTART_CHILD"

// TestMain turns the binary into a program that is linked with the terminal
// library and prints one line without using it.
func TestMain(m *testing.M) {
	if os.Getenv(childVariable) != "" {
		os.Stdout.WriteString("plain\n")
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// A program that is linked with the terminal library asks the terminal nothing
// before it is told to.
func TestAsksTheTerminalNothing(t *testing.T) {
	binary, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.Command(binary)
	child.Env = append(os.Environ(), childVariable+"=1", "TERM=xterm-256color", "NO_COLOR=", "CI=")
	terminal, err := pty.Start(child)
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	defer terminal.Close()
	// The end of a pseudo-terminal is an error on Linux; what came before counts.
	output, _ := io.ReadAll(terminal)
	if err := child.Wait(); err != nil {
		t.Fatal(err)
	}
	if got, want := string(output), "plain\r\n"; got != want {
		t.Errorf("the terminal saw %q, want %q", got, want)
	}
	if bytes.ContainsRune(output, 0x1b) {
		t.Errorf("an escape byte in %q", output)
	}
}

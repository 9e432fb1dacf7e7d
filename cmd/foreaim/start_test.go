package main

import (
	"bytes"
	"io"
	"net"
	"os"
	"os/exec"
	"testing"

	"github.com/creack/pty"
)

// On a terminal, the plain commands of the real program print what they have to
// say and nothing else: no question to the terminal, no escape byte.
func TestPlainCommandsOnATerminal(t *testing.T) {
	binary := built(t)
	for _, args := range [][]string{
		{"version"}, {"help"}, {}, {"north", "--site", "58.3127,14.0864"}, with(emberling, "look"), {"nosuch"},
	} {
		command := exec.Command(binary, args...)
		command.Env = append(os.Environ(), "TERM=xterm-256color", "XDG_CONFIG_HOME="+t.TempDir())
		terminal, err := pty.Start(command)
		if err != nil {
			t.Skipf("no pseudo-terminal here: %v", err)
		}
		output, _ := io.ReadAll(terminal) // its end is an error on Linux
		terminal.Close()
		command.Wait()
		if len(output) == 0 {
			t.Errorf("%v says nothing", args)
		}
		if bytes.ContainsRune(output, 0x1b) {
			t.Errorf("%v: an escape byte in %q", args, output)
		}
	}
}

// Ctrl-C ends a command that waits, with its own exit status.
func TestSignal(t *testing.T) {
	silent, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	command := exec.Command(built(t), "gps", "--source", "tcp://"+silent.Addr().String())
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := silent.Accept(); err != nil { // now it listens
		t.Fatal(err)
	}
	if err := command.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	command.Wait()
	if status := command.ProcessState.ExitCode(); status != statusInterrupted {
		t.Errorf("exit status %d, want %d", status, statusInterrupted)
	}
}

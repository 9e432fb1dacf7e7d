// Package runner runs the user's own commands: at times of a pass, as a voice,
// as tones. Nothing that they do, or fail to do, holds up who asked for it.
package runner

import (
	"errors"
	"fmt"
	"io/fs"
	"os/exec"
	"strings"
	"time"
)

// Command is something to run.
type Command struct {
	Name    string   // for people; empty: the program's name
	Args    []string // the program and its arguments; no shell looks at them
	Input   []byte   // for its standard input, which is closed after it
	Timeout time.Duration
	Grace   time.Duration // between asking it to end and ending it
}

// Result is what came of a command.
type Result struct {
	Name    string
	Started time.Time
	Took    time.Duration
	Status  int    // its exit status; -1 when it didn't end by itself
	Output  string // the end of what it wrote, standard error included, printable lines
	Cut     bool   // the output was longer
	Err     error  // one line; nil when it ended with status 0
}

// The ways to fail that aren't the program's own.
var (
	ErrTimeout = errors.New("stopped: it took too long")
	ErrStopped = errors.New("stopped")
	ErrStuck   = errors.New("does not end even when it is killed")
	ErrMissing = errors.New("no such program")
	ErrTooMany = errors.New("not started: too many commands are running")
)

// name is what the command is called in messages.
func (c Command) name() string {
	switch {
	case c.Name != "":
		return oneLine(c.Name)
	case len(c.Args) == 0:
		return "command"
	default:
		return oneLine(c.Args[0])
	}
}

// startError words the error of a program that could not be started. It names
// the program unless the command is called after it.
func startError(c Command, err error) error {
	if errors.Is(err, exec.ErrNotFound) || errors.Is(err, fs.ErrNotExist) {
		if c.Name == "" {
			return ErrMissing
		}
		return fmt.Errorf("%q: %w", oneLine(c.Args[0]), ErrMissing)
	}
	return errors.New(oneLine(err.Error()))
}

// statusError words a program's failure, with its last words.
func statusError(err error, output string) error {
	if output == "" {
		return errors.New(oneLine(err.Error()))
	}
	last := output[strings.LastIndexByte(output, '\n')+1:]
	return fmt.Errorf("%s: %s", oneLine(err.Error()), last)
}

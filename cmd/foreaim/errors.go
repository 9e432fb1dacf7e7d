package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"unicode"
)

// The exit statuses.
const (
	statusDone        = 0
	statusFailed      = 1   // could not be done
	statusWrong       = 2   // the command line or an input file is wrong
	statusInterrupted = 130 // by the user
)

// problem is an error with the way out and the exit status that it causes.
type problem struct {
	status int
	err    error
	hint   string // may be empty
}

func (p *problem) Error() string { return p.err.Error() }
func (p *problem) Unwrap() error { return p.err }

// Hint returns the way out; empty where there is none.
func (p *problem) Hint() string { return p.hint }

// wrong is an error of the command line or of an input file.
func wrong(hint, format string, args ...any) error {
	return &problem{statusWrong, fmt.Errorf(format, args...), hint}
}

// failed is an error of the world: what was asked for could not be done.
func failed(hint, format string, args ...any) error {
	return &problem{statusFailed, fmt.Errorf(format, args...), hint}
}

// report prints an error, if there is one, and returns the exit status. A
// joined error is several lines, one each.
func (sys system) report(err error) int {
	if err == nil {
		return statusDone
	}
	if errors.Is(err, context.Canceled) {
		return statusInterrupted
	}
	status := statusFailed
	var p *problem
	if errors.As(err, &p) {
		status = p.status
	}
	for _, each := range split(err) {
		sys.say("error", sayFile(each))
		sys.sayHint(each)
	}
	return status
}

// sayFile says an error with the file in front, as "FILE: no such file or
// directory", where the library says "open FILE: no such file or directory".
func sayFile(err error) string {
	var file *fs.PathError
	if !errors.As(err, &file) {
		return err.Error()
	}
	before, after, found := strings.Cut(err.Error(), file.Error())
	if !found {
		return err.Error()
	}
	if file.Path == "" {
		before += `"": `
	} else if !strings.Contains(before, file.Path) {
		before += file.Path + ": "
	}
	return before + file.Err.Error() + after
}

// sayHint prints the way out that an error knows, if any.
func (sys system) sayHint(err error) {
	if hint := hintOf(err); hint != "" {
		sys.say("hint", hint)
	}
}

// hintOf returns the way out that an error knows; empty where there is none.
func hintOf(err error) string {
	var h interface{ Hint() string }
	if errors.As(err, &h) {
		return h.Hint()
	}
	return ""
}

// split takes a joined error apart.
func split(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var parts []error
	for _, e := range joined.Unwrap() {
		parts = append(parts, split(e)...)
	}
	return parts
}

// warn tells of something that doesn't stop the command.
func (sys system) warn(format string, args ...any) { sys.say("warning", fmt.Sprintf(format, args...)) }

// note tells what the command is doing.
func (sys system) note(format string, args ...any) { sys.say("note", fmt.Sprintf(format, args...)) }

// say prints one line to standard error.
func (sys system) say(kind, text string) {
	fmt.Fprintf(sys.stderr, "foreaim: %s: %s\n", kind, plain(text))
}

// plain makes one line of a text from outside: it drops control and formatting
// characters, which could drive a terminal or reorder the line.
func plain(text string) string {
	text = strings.ReplaceAll(strings.TrimSpace(text), "\n", "; ")
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, text))
}

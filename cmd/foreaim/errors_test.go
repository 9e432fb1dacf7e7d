package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"strings"
	"testing"
	"time"
	"unicode"
)

func TestReport(t *testing.T) {
	for _, c := range []struct {
		err    error
		status int
		want   string
	}{
		{nil, 0, ""},
		{errors.New("no luck"), 1, "foreaim: error: no luck\n"},
		{failed("try again", "no %s", "luck"), 1, "foreaim: error: no luck\nforeaim: hint: try again\n"},
		{fmt.Errorf("so: %w", wrong("", "bad \x1b[31m\u202etext\r\n")), 2, "foreaim: error: so: bad [31mtext\n"},
		{errors.Join(wrong("a", "one"), wrong("", "two")), 2, "foreaim: error: one\nforeaim: hint: a\nforeaim: error: two\n"},
		{failed("", "search: %w", context.Canceled), 130, ""},
		{wrong("", "%w", &fs.PathError{Op: "open", Path: "a.csv", Err: fs.ErrNotExist}), 2, "foreaim: error: a.csv: file does not exist\n"},
		{wrong("", "%w", &fs.PathError{Op: "stat", Err: fs.ErrNotExist}), 2, "foreaim: error: \"\": file does not exist\n"},
		{failed("", "the store: %w", &fs.PathError{Op: "mkdir", Path: "b", Err: fs.ErrPermission}), 1, "foreaim: error: the store: b: permission denied\n"},
		{wrong("", "c.csv:1:1: can't be read on: %w", &fs.PathError{Op: "read", Path: "c.csv", Err: fs.ErrInvalid}), 2,
			"foreaim: error: c.csv:1:1: can't be read on: invalid argument\n"},
	} {
		var b bytes.Buffer
		if status := (system{stderr: &b}).report(c.err); status != c.status || b.String() != c.want {
			t.Errorf("%v: status %d, %q; want %d, %q", c.err, status, b.String(), c.status, c.want)
		}
	}
}

func FuzzPlain(f *testing.F) {
	f.Add("name \x1b]0;x\x07\u009b31m\u202e\n\x00\xff")
	f.Fuzz(func(t *testing.T, text string) {
		got := plain(text)
		for _, r := range got {
			if !unicode.IsGraphic(r) && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
				t.Errorf("plain(%q) has %U", text, r)
			}
		}
		if plain(got) != got {
			t.Errorf("plain(%q) = %q, and again %q", text, got, plain(got))
		}
	})
}

// A search or a wait ends when the user wants it to.
func TestInterrupted(t *testing.T) {
	silent, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	source := "tcp://" + silent.Addr().String()
	for _, args := range [][]string{
		{"gps", "--source", source},
		{"gps", "--source", source, "--for", "1h"},
		with(emberling, "passes", "--for", "366d"),
	} {
		ctx, cancel := context.WithCancel(t.Context())
		time.AfterFunc(20*time.Millisecond, cancel)
		if args[0] != "gps" {
			cancel()
		}
		status, stdout, stderr := runHere(t, ctx, args...)
		if status != statusInterrupted || stdout != "" || strings.Contains(stderr, "error") {
			t.Errorf("%v: status %d, %q, %q; want %d and no error", args, status, stdout, stderr, statusInterrupted)
		}
	}
}

// An answer that can't be written is a failure.
func TestBrokenOutput(t *testing.T) {
	for _, args := range [][]string{
		with(emberling, "look"), with(emberling, "look", "--json"), with(emberling, "passes"),
		with(emberling, "bursts", "--period", "30s"), {"north", "--site", "58,14"}, {"version"}, {"man"}, {},
		{"gps", "--source", "fixed:58,14"}, {"gps", "--list"}, {"elements", "list", "../../testdata/outing/launch.tle"},
	} {
		sys := testSystem(system{stdout: full{}, stderr: new(bytes.Buffer),
			interruptible: func() (context.Context, context.CancelFunc) { return context.WithCancel(t.Context()) }})
		if status := run(args, sys); status != statusFailed {
			t.Errorf("%v: exit status %d on a full disk, want %d", args, status, statusFailed)
		}
	}
}

// full is a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

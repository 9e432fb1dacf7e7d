package main

import (
	"os"
	"strings"
	"testing"
	"time"

	"foreaim/track/outing"
	"foreaim/tui"
)

// These programs are what the user's own commands run: this test's binary again.
var stand = map[string]func(){
	"prints": func() { os.Stdout.WriteString("\x1b[2Jrecording\nto disk \u202eback\n") },
	"fails":  func() { os.Stderr.WriteString("no such device\n"); os.Exit(3) },
	"hangs":  func() { time.Sleep(time.Hour) },
	"floods": func() { os.Stdout.WriteString(strings.Repeat("flood ", 10000) + "last words") },
}

// What a command of the user's own does and writes comes back for the record,
// short and printable.
func TestCommandsOfTheUsersOwn(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var c config
	for _, name := range []string{"prints", "fails", "hangs", "floods"} {
		c.runs = append(c.runs, runConfig{outing.Moment{Anchor: outing.AtRise}, []string{self, "stand-in", name}, time.Minute})
	}
	c.runs[2].timeout = 300 * time.Millisecond
	c.runs = append(c.runs, runConfig{outing.Moment{Anchor: outing.AtSet}, []string{"no-such-program-anywhere"}, time.Minute})
	var screen tui.Config
	defer c.outfit(&screen)()
	if len(screen.Commands) != len(c.runs) {
		t.Fatalf("%d commands, want %d", len(screen.Commands), len(c.runs))
	}
	if at := screen.Commands[4].At; at != c.runs[4].at {
		t.Errorf("at %v", at)
	}
	for i, want := range []outing.CommandEntry{
		{Output: "[2Jrecording to disk back"},
		{ExitStatus: 3, Output: "no such device", Problem: "exit status 3: no such device"},
		{ExitStatus: -1, TimedOut: true, Problem: "stopped: it took too long (300ms)"},
		{},
		{ExitStatus: -1, Problem: "no such program"},
	} {
		got := screen.Commands[i].Run()
		if i == 3 { // the flood
			if !strings.HasPrefix(string(got.Output), "... ") || !strings.HasSuffix(string(got.Output), "flood last words") || len(got.Output) > maxOutput+4 {
				t.Errorf("of a flood %d bytes are kept, ending %.40q", len(got.Output), got.Output[max(0, len(got.Output)-40):])
			}
			continue
		}
		if !got.DurationS.Known || got.DurationS.Value > 30 {
			t.Errorf("%d took %+v", i, got.DurationS)
		}
		got.DurationS = outing.Number{}
		if !strings.Contains(string(got.Problem), string(want.Problem)) || (got.Problem == "") != (want.Problem == "") {
			t.Errorf("%d: problem %q, want %q", i, got.Problem, want.Problem)
		}
		got.Problem, want.Problem = "", ""
		if got != want {
			t.Errorf("%d: %+v, want %+v", i, got, want)
		}
	}
}

// After the end nothing runs any more.
func TestCommandsEndWithTheScreen(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := config{runs: []runConfig{{outing.Moment{Anchor: outing.AtRise}, []string{self, "stand-in", "hangs"}, time.Hour}}}
	var screen tui.Config
	end := c.outfit(&screen)
	ended := make(chan outing.CommandEntry)
	go func() { ended <- screen.Commands[0].Run() }()
	end()
	if e := <-ended; e.Problem == "" || e.TimedOut {
		t.Errorf("%+v, want it stopped", e)
	}
	if e := screen.Commands[0].Run(); e.Problem == "" {
		t.Error("a command is run after the end")
	}
}

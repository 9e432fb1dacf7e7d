package tui

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	_ "foreaim/tui/plainstart" // or the child would ask the terminal for its colours, for 5 s
)

// The variables with which a test starts this binary again as the program
// itself, on a real terminal.
const (
	childStory = "TUI_TEST_STORY" // which story to play
	childPanic = "TUI_TEST_PANIC" // where to panic a second later: update or command
)

func TestMain(m *testing.M) {
	if name := os.Getenv(childStory); name != "" {
		os.Exit(playStory(name))
	}
	os.Exit(m.Run())
}

// playStory runs a story from its moment on, in real time.
func playStory(name string) int {
	s, ok := stories[name]
	if !ok {
		fmt.Fprintln(os.Stderr, "no such story:", name)
		return 2
	}
	began, at := time.Now(), s.clock()
	config, targets := s.config(func() time.Time { return at.Add(time.Since(began)) })
	config.Theme, config.ASCII = os.Getenv("TUI_TEST_THEME"), os.Getenv("TUI_TEST_ASCII") != ""
	if where := os.Getenv(childPanic); where != "" {
		targets[0].orbit = bomb{s.object, where, at.Add(time.Second)}
	}
	if err := runTargets(context.Background(), config, targets); err != nil {
		fmt.Println(err)
		return 1
	}
	return 0
}

package tui

import (
	"fmt"
	"runtime/debug"

	tea "github.com/charmbracelet/bubbletea"
)

// panicMsg is a panic in a command.
type panicMsg struct{ error }

// panicError turns a recovered panic into an error that carries its place.
func panicError(r any) error { return fmt.Errorf("internal error: %v\n%s", r, debug.Stack()) }

// guard catches a panic in a command: nothing else would restore the screen.
func guard(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				msg = panicMsg{panicError(r)}
			}
		}()
		return cmd()
	}
}

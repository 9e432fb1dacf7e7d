package tui

import (
	"bytes"
	"context"
	"log"
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// Run shows the full-screen program until the user leaves it, the context ends,
// or the terminal goes away (SIGHUP) or the process is told to end (SIGTERM).
// The terminal is restored whatever happens; an error is to be printed after.
// It is tea.ErrInterrupted after Ctrl-C or SIGINT, and after a panic says what
// happened and where.
//
// The bell goes to the standard output: an option that sets another output
// leaves it there.
func Run(ctx context.Context, config Config, options ...tea.ProgramOption) error {
	return runTargets(ctx, config, targetsOf(config.Targets), options...)
}

// runTargets is Run with any orbits.
func runTargets(ctx context.Context, config Config, targets []target, options ...tea.ProgramOption) error {
	// Libraries that log would write across the screen.
	var logged bytes.Buffer
	log.SetOutput(&logged)
	defer func() {
		log.SetOutput(os.Stderr)
		_, _ = os.Stderr.Write(logged.Bytes())
	}()

	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	hangups := make(chan os.Signal, 1)
	signal.Notify(hangups, syscall.SIGHUP)
	defer signal.Stop(hangups)

	out := &terminal{File: os.Stdout}
	options = append([]tea.ProgramOption{tea.WithOutput(out)}, options...)
	m := newModel(ctx, config, targets, chooseTheme(config.Theme, os.Getenv), out)
	return run(ctx, m, hangups, options...)
}

// run runs a model until it quits, the context ends or a hangup comes.
func run(ctx context.Context, m *model, hangups <-chan os.Signal, options ...tea.ProgramOption) error {
	p := tea.NewProgram(m, append([]tea.ProgramOption{tea.WithAltScreen(), tea.WithMouseCellMotion()}, options...)...)
	ended := make(chan struct{})
	defer close(ended)
	go func() {
		select {
		case <-hangups:
		case <-ctx.Done():
		case <-ended:
			return
		}
		p.Quit()
	}()
	_, err := p.Run()
	if m.failure != nil {
		err = m.failure
	}
	m.recording.end(m.trueNow(), err)
	return err
}

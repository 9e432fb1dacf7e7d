package main

import (
	"context"
	"errors"
	"strings"

	"foreaim/tui"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/spf13/pflag"
)

// screenFlags are the flags of the full-screen commands.
type screenFlags struct {
	theme  string
	ascii  bool
	silent bool
}

func (s *screenFlags) add(f *pflag.FlagSet) {
	f.StringVar(&s.theme, "theme", "auto", "draw for a `BACKGROUND`: auto, light, dark, or mono for no colour")
	f.BoolVar(&s.ascii, "ascii", false, "draw with ASCII characters only")
	f.BoolVar(&s.silent, "silent", false, "don't ring the terminal's bell before a burst")
}

// config is what the flags and the terminal say about the screen.
func (s screenFlags) config(sys system) (tui.Config, error) {
	switch s.theme {
	case "auto", "light", "dark", "mono":
	default:
		return tui.Config{}, wrong("the themes are auto, light, dark and mono", "--theme: there is no theme %q", plain(s.theme))
	}
	return tui.Config{
		Zone:   sys.local,
		Theme:  s.theme,
		ASCII:  s.ascii || !sys.drawsUnicode(),
		Silent: s.silent,
	}, nil
}

// drawsUnicode tells whether the locale and the terminal are known to show
// characters beyond ASCII.
func (sys system) drawsUnicode() bool {
	switch term := sys.env("TERM"); term {
	case "linux", "vt100", "vt220":
		return false
	}
	if sys.env("WT_SESSION") != "" { // Windows sets no locale; its terminal is Unicode
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := sys.env(name); locale != "" {
			locale = strings.ToLower(locale)
			return strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
		}
	}
	return false
}

// show runs the full-screen program.
func (sys system) show(ctx context.Context, config tui.Config) error {
	err := tui.Run(ctx, config)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.Is(err, tea.ErrInterrupted):
		return context.Canceled
	case err != nil:
		return failed("", "%w", err)
	}
	return nil
}

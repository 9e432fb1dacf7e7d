package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"syscall"
	"time"

	"foreaim/gps"

	"github.com/adrg/xdg"
	"golang.org/x/term"
)

// system is the world outside the program. It is passed in, so that every
// command runs inside a test.
type system struct {
	stdin          io.Reader
	stdout, stderr io.Writer

	terminal bool // standard output is a terminal
	width    int  // its columns; 80 when it isn't one
	watched  bool // standard error is a terminal

	now   func() time.Time // the computer's clock
	local *time.Location   // the zone that people here read
	env   func(string) string

	configFile string // where the configuration is when nobody says; may not exist
	dataFolder string // the folder for data; may not exist
	records    string // the folder for records of outings; may not exist

	cacheFolder string // for what can be worked out again; may not exist

	ports   func() ([]gps.Port, error) // the serial ports
	version string

	// interruptible returns a context that ends when the user or the system
	// asks the program to stop.
	interruptible func() (context.Context, context.CancelFunc)
}

// systemHere is the world that the program was started in.
func systemHere() system {
	terminal := term.IsTerminal(int(os.Stdout.Fd()))
	width := 80
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w > 0 {
		width = w
	}
	return system{
		stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		terminal: terminal, width: width, watched: term.IsTerminal(int(os.Stderr.Fd())),
		now: time.Now, local: time.Local, env: os.Getenv,
		configFile: configFileHere(),
		dataFolder: filepath.Join(xdg.DataHome, "foreaim"),
		records:    filepath.Join(xdg.StateHome, "foreaim", "outings"),

		cacheFolder: filepath.Join(xdg.CacheHome, "foreaim"),
		ports:       gps.Ports,
		version:     versionHere(),
		interruptible: func() (context.Context, context.CancelFunc) {
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
			context.AfterFunc(ctx, stop) // a second signal ends the program at once
			return ctx, stop
		},
	}
}

// configFileHere is the configuration that exists, of the user's or else the
// system's, or the place where the user's would be.
func configFileHere() string {
	const name = "foreaim/config.toml"
	if found, err := xdg.SearchConfigFile(name); err == nil {
		return found
	}
	return filepath.Join(xdg.ConfigHome, filepath.FromSlash(name))
}

// versionHere is what the build knows about itself.
func versionHere() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "built from source"
	}
	return info.Main.Version
}

package main

import (
	"bytes"
	"context"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/gps"

	"github.com/rogpeppe/go-internal/testscript"
)

// testNow is the moment at which the tests run.
const testNow = "2026-11-25T15:00:00Z"

// TestMain lets the scripts run this binary as foreaim, and other tests as a
// command of the user's own.
func TestMain(m *testing.M) {
	if len(os.Args) == 3 && os.Args[1] == "stand-in" {
		stand[os.Args[2]]()
		return
	}
	// Most parallel tests wait for a program that runs in real time. A number on
	// the command line counts more: it is read later.
	if err := flag.Set("test.parallel", "8"); err != nil {
		panic(err)
	}
	testscript.Main(swept{m}, map[string]func(){
		"foreaim": func() { os.Exit(run(os.Args[1:], later(testSystem(systemHere())))) },
	})
}

// testSystem makes a system's clock, zone, ports and version known, and gives it
// an environment if it has none.
func testSystem(sys system) system {
	if sys.env == nil {
		sys.env = environment(nil)
	}
	begin, now := time.Now(), mustTime(testNow)
	sys.now = func() time.Time { return now.Add(time.Since(begin)) }
	sys.local = time.FixedZone("CET", 3600)
	sys.version = "v0.0.0-test"
	sys.ports = func() ([]gps.Port, error) {
		return []gps.Port{{Name: "/dev/ttyUSB0", Description: "USB \x1b[31mreceiver"}}, nil
	}
	return sys
}

// later sets the clock on by the duration in TEST_LATER, if there is one.
func later(sys system) system {
	if by, err := time.ParseDuration(os.Getenv("TEST_LATER")); err == nil {
		now := sys.now
		sys.now = func() time.Time { return now().Add(by) }
	}
	return sys
}

func mustTime(text string) time.Time {
	t, err := time.Parse(time.RFC3339, text)
	if err != nil {
		panic(err)
	}
	return t
}

// TestScripts runs the scripts of testdata/script: what a person types and
// sees. With UPDATE_SCRIPTS=1 it writes what is seen now.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("LC_ALL", "C.UTF-8")
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("XDG_CACHE_HOME", filepath.Join(env.WorkDir, "cache"))
			env.Setenv("XDG_CONFIG_DIRS", filepath.Join(env.WorkDir, "none"))
			publish(env)
			return copyFiles(env.WorkDir, "outing/emberling.tle", "outing/launch.tle", "outing/meadow.nmea")
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"fails": fails, "asked": asked, "tiles": makeTiles},
	})
}

// copyFiles copies files of the project's test data: element files into the
// same folder, a recording beside it.
func copyFiles(to string, names ...string) error {
	if err := os.Mkdir(filepath.Join(to, "outing"), 0o777); err != nil {
		return err
	}
	for _, name := range names {
		data, err := os.ReadFile("../../testdata/" + name)
		if err != nil {
			return err
		}
		if filepath.Ext(name) != ".tle" {
			name = filepath.Base(name)
		}
		if err := os.WriteFile(filepath.Join(to, name), data, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// fails runs foreaim and wants an exit status: fails 2 look --for -1h.
func fails(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: fails STATUS ARGUMENTS")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec("foreaim", args[1:]...)
	status := 0
	if exit, ok := err.(interface{ ExitCode() int }); ok {
		status = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if status != want {
		ts.Fatalf("exit status %d, want %d", status, want)
	}
}

// runHere runs a command line inside the test.
func runHere(t testing.TB, ctx context.Context, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	return runWith(t, ctx, nil, args...)
}

// runWith is runHere with variables of the environment.
func runWith(t testing.TB, ctx context.Context, env map[string]string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	return runIn(ctx, t.TempDir(), env, args...)
}

// runIn is runWith where configuration and data are kept in a folder.
func runIn(ctx context.Context, folder string, env map[string]string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	sys := testSystem(system{
		stdin: strings.NewReader(""), stdout: &out, stderr: &errs, width: 80,
		env:        environment(env),
		configFile: filepath.Join(folder, "config.toml"),
		dataFolder: filepath.Join(folder, "data"),
		interruptible: func() (context.Context, context.CancelFunc) {
			return context.WithCancel(ctx)
		},
	})
	status = run(args, sys)
	return status, out.String(), errs.String()
}

// environment is one with these variables, and a locale unless they have one.
func environment(variables map[string]string) func(name string) string {
	return func(name string) string {
		if text, set := variables[name]; set || name != "LC_ALL" {
			return text
		}
		return "C.UTF-8"
	}
}

// emberling is the invented object of the tests and the site it is seen from.
var emberling = []string{"--elements", "../../testdata/outing/emberling.tle", "--site", "58.3127,14.0864,131"}

// with joins arguments.
func with(args []string, more ...string) []string {
	return append(append([]string{}, args...), more...)
}

// BenchmarkLook measures a whole plain command inside the process.
func BenchmarkLook(b *testing.B) {
	sys := testSystem(system{
		stdout: io.Discard, stderr: io.Discard,
		interruptible: func() (context.Context, context.CancelFunc) {
			return context.WithCancel(context.Background())
		},
	})
	args := with(emberling, "look", "--json")
	for b.Loop() {
		if status := run(args, sys); status != statusDone {
			b.Fatalf("exit status %d", status)
		}
	}
}

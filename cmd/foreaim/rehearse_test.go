package main

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"
)

// An interrupted rehearsal tells what was played until then, and that it was
// interrupted.
func TestRehearsalInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	folder := t.TempDir()
	var out, errs strings.Builder
	sys := testSystem(system{
		stdout: &out, stderr: stopAfterShown{&errs, cancel}, watched: true, configFile: folder + "/config.toml", dataFolder: folder,
		interruptible: func() (context.Context, context.CancelFunc) { return ctx, cancel },
	})
	if status := run([]string{"rehearse", "--passes", "100000", "--json"}, sys); status != statusInterrupted {
		t.Errorf("exit status %d, want %d", status, statusInterrupted)
	}
	var answer struct {
		Played   int `json:"passes_played"`
		Settings struct{ Passes int }
		Learn    struct {
			Share *float64 `json:"heard_share"`
		}
	}
	if err := json.Unmarshal([]byte(out.String()), &answer); err != nil {
		t.Fatalf("%v in %q", err, out.String())
	}
	if answer.Played < 1 || answer.Played > 1000 || answer.Settings.Passes != 100000 || answer.Learn.Share == nil {
		t.Errorf("%+v", answer)
	}
	if !strings.Contains(errs.String(), " of 100000 passes") || !strings.HasSuffix(errs.String(), "\r") {
		t.Errorf("progress %q", errs.String())
	}
}

// stopAfterShown is a terminal whose user presses Ctrl-C as soon as something
// stands on it.
type stopAfterShown struct {
	*strings.Builder
	stop func()
}

func (s stopAfterShown) Write(text []byte) (int, error) {
	s.stop()
	return s.Builder.Write(text)
}

// Nothing is told of a rehearsal that was stopped before a pass was over.
func TestRehearsalStoppedAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if status, stdout, stderr := runHere(t, ctx, "rehearse"); status != statusInterrupted || stdout+stderr != "" {
		t.Errorf("status %d, %q, %q", status, stdout, stderr)
	}
}

func TestParseTimeError(t *testing.T) {
	for text, want := range map[string]time.Duration{"120s": 2 * time.Minute, " 2m": 2 * time.Minute, "0s": 0, "30m": 30 * time.Minute} {
		if got, err := parseTimeError(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "120", "-1s", "31m", "soon"} {
		if got, err := parseTimeError(text); err == nil {
			t.Errorf("%q: %v, want an error", text, got)
		}
	}
}

// An error of 0 that somebody tells isn't taken for one that nobody told, which
// stands for the usual one.
func TestNoErrorIsTold(t *testing.T) {
	e := newErrorFlags()
	if got := e.prior(config{}, nil).MarginSigmaDB; got != 0 {
		t.Errorf("%v dB where nothing is told", got)
	}
	if err := e.marginErrorDB.Set("0"); err != nil {
		t.Fatal(err)
	}
	if got := e.prior(config{}, nil).MarginSigmaDB; !(got > 0 && got < 0.1) {
		t.Errorf("%v dB where none is told", got)
	}
}

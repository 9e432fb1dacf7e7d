//go:build unix

package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/outing"
)

// The real program with a configuration of a user: before the burst it runs the
// commands, which take nothing but their own words for words; what they did is
// in the record, and a failure on the screen. Where there is no voice, the tones
// arrive at their command.
func TestConfiguredCommandsRunInAPass(t *testing.T) {
	t.Parallel()
	w, err := world.New(context.Background(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	write := func(name, text string, mode os.FileMode) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), mode); err != nil {
			t.Fatal(err)
		}
		return path
	}
	player := write("player", "#!/bin/sh\ncat >\"$1.part\" && mv \"$1.part\" \"$1\"\n", 0o700)
	sound := filepath.Join(folder, "sound.wav")
	config := write("config.toml", fmt.Sprintf(`
[voice]
tones = "%s '%s'"

[[run]]
at = "burst-4s"
command = "echo recording; touch %s/shell"

[[run]]
at = "burst-3s"
command = "sh -c 'echo no such device >&2; exit 3'"
`, player, sound, folder), 0o600)
	state := filepath.Join(folder, "state")
	term := inTerminalWith(t, 80, 24, []string{"XDG_STATE_HOME=" + state}, "--config", config, "--elements", writeElements(t, w.Satellites[0].Set),
		"--site", "58.3127,14.0864,131", "--facing", "105", "--period", "30s",
		"--first", time.Now().Add(9*time.Second).UTC().Format(time.RFC3339))
	term.await("no such device")
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		if data, err := os.ReadFile(sound); err == nil {
			if !strings.HasPrefix(string(data), "RIFF") {
				t.Errorf("the tones are %.20q", data)
			}
			break
		}
		if time.Now().After(deadline) {
			t.Fatalf("no tone was played; the screen is\n%s", term.screen())
		}
	}
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	if _, err := os.Stat(filepath.Join(folder, "shell")); err == nil {
		t.Error("a shell has read the command")
	}

	files, err := filepath.Glob(filepath.Join(state, "foreaim", "outings", "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("records %q, %v", files, err)
	}
	file, err := os.Open(files[0])
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	log, err := outing.Read(file, files[0])
	if err != nil || len(log.Faults) > 0 {
		t.Fatal(err, log.Faults)
	}
	outputs := map[string]outing.CommandEntry{}
	for _, r := range log.Records {
		if e, ok := r.Entry.(outing.CommandEntry); ok {
			outputs[string(e.When)] = e
		}
	}
	if e := outputs["burst-4s"]; string(e.Output) != "recording; touch "+folder+"/shell" || e.Problem != "" || e.ExitStatus != 0 {
		t.Errorf("before the burst ran %+v", e)
	}
	if e := outputs["burst-3s"]; e.ExitStatus != 3 || e.Output != "no such device" || !strings.Contains(string(e.Problem), "exit status 3") || !strings.HasPrefix(string(e.Command), "sh -c ") {
		t.Errorf("then ran %+v", e)
	}
}

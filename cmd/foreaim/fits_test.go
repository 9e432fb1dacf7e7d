package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// Whatever a table is asked for, it fits the usual terminal: with every column
// that there can be, in a zone with a day line, with long names and paths.
func TestTablesFitATerminal(t *testing.T) {
	folder := filepath.Join(t.TempDir(), strings.Repeat("folder", 8))
	if err := os.Mkdir(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	lines, err := os.ReadFile("../../testdata/outing/launch.tle")
	if err != nil {
		t.Fatal(err)
	}
	long := filepath.Join(folder, "launch.tle")
	if err := os.WriteFile(long, []byte(strings.ReplaceAll(string(lines), "TIDELARK\n", "TIDELARK WITH A LONG NAME\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	hilly := []string{"--terrain", "../../testdata/outing/tiles", "--sea"}
	sites := filepath.Join(folder, "sites.csv")
	if err := os.WriteFile(sites, []byte("name,latitude_deg,longitude_deg,antenna_m\nThe meadow below the wood at Ostvar,58.3127,14.0864,1.5\nCrest,58.3127,14.1205,1.5\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	named := filepath.Join(folder, "config.toml") // a site with a name, as a person gives it
	text := "[site]\nname = 'The meadow behind the old lighthouse of Ostvar'\nlatitude_deg = 58.3127\nlongitude_deg = 14.0864\n"
	if err := os.WriteFile(named, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	there := []string{"--config", named, "--elements", long}
	beacon := []string{"--period", "30s", "--first", "2026-11-25T16:00:10Z", "--frequency", "436.215M"}
	late := []string{"--from", "2026-11-25T22:59:00Z", "--for", "1d"} // from one local day to the next
	for _, args := range [][]string{
		with(emberling, "look"),
		with(there, "look", "tidelark"),
		with(with(there, "bursts", "tidelark"), beacon...),
		with(there, "elements", "group", "2026-199"),
		with(emberling, "look", "--frequency", "436.215M"),
		with(with(emberling, "look", "--frequency", "436.215M", "--every", "6h"), late...),
		with(with(emberling, "bursts"), beacon...),
		with(with(with(emberling, "bursts"), beacon...), late...),
		with(meadow, "link", "EMBERLING"),
		with(meadow, "link", "TIDELARK"),
		with(meadow, "link", "TIDELARK", "--chain", "meadow"),
		with(with(meadow, "link", "EMBERLING"), late...),
		{"elements", "list", long},
		{"elements", "list", "../../testdata/outing/launch.tle"},
		{"elements", "show", "--elements", long, "tidelark"},
		{"gps", "--list"},
		with([]string{"sites", sites, "TIDELARK", "--config", "../../testdata/outing/radio.toml", "--elements", long, "--from", "2026-11-25T15:00:00Z", "--for", "24h"}, hilly...),
		with([]string{"sites", "--around", "58.31,14.09", "--radius", "1km", "TIDELARK", "--elements", long, "--from", "2026-11-25T15:00:00Z", "--for", "24h"}, hilly...),
		with(with(meadow, "passes", "TIDELARK", "EMBERLING", "--skyline", "../../testdata/outing/meadow.csv", "--from", "2026-12-30T15:00:00Z", "--for", "3d"), hilly...),
		with([]string{"skyline", "--site", "58.3127,14.0864,131"}, hilly...),
		with([]string{"profile", "kvarn", "--site", "58.3127,14.0864,131", "--transmitters", "../../testdata/outing/masts.csv"}, hilly...),
		{"north", "--site", "58.3127,14.0864,131", "--at", "2026-11-25T12:00:00Z", "--landmark", "Forty letters and no more are in this 1=58.31,14.13,190"},
		{"rehearse", "--passes", "1", "--unknown-phase", "--strengths", "--margin-error", "4", "--frequency", "437.1M", "--frequency-error", "300"},
	} {
		status, stdout, stderr := runHere(t, t.Context(), args...)
		if status != statusDone || strings.Count(stdout, "\n") < 2 {
			t.Errorf("%v: status %d, %s%s", args, status, stdout, stderr)
		}
		for line := range strings.Lines(stdout) {
			if line = strings.TrimRight(line, "\n"); ansi.StringWidth(line) > screenWidth {
				t.Errorf("%v: %d columns: %s", args, ansi.StringWidth(line), line)
			}
		}
	}
}

package main

import (
	"reflect"
	"strings"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// The configuration that help shows is accepted, and shows every key.
func TestConfigTopicIsComplete(t *testing.T) {
	status, shown, stderr := runHere(t, t.Context(), "help", "config")
	if status != statusDone || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	whole := strings.Replace(shown, "beamwidth_deg = 50 ", "# ", 1)
	whole = strings.ReplaceAll(whole, "# beamwidth_", "beamwidth_")
	for _, text := range []string{shown, whole} {
		if _, err := parseConfig("help", []byte(text)); err != nil {
			t.Error(err)
		}
	}
	for name, table := range tablesOf(reflect.TypeFor[configFile]()) {
		_, keys, ok := strings.Cut(shown, "["+name+"]")
		if !ok {
			t.Errorf("help config shows no [%s]", name)
			continue
		}
		for _, field := range reflect.VisibleFields(table) {
			key := field.Tag.Get("toml")
			if _, isTable := fieldOf(table, key); isTable || key == "" {
				continue
			}
			if keys := strings.ReplaceAll(keys, "\n# ", "\n"); !strings.Contains(keys, "\n"+key+" = ") {
				t.Errorf("help config shows no %s in [%s]", key, name)
			}
		}
	}
}

// The columns that help names are those that are read.
func TestFilesTopicIsRead(t *testing.T) {
	_, shown, _ := runHere(t, t.Context(), "help", "files")
	shown = strings.ReplaceAll(shown, "erp_dbm,\n  ", "erp_dbm,")
	shown = strings.NewReplacer("[", "", "]", "", "      or      ", "\n  ").Replace(shown)
	var err error
	readers := map[string]func(row string) int{
		"time,": func(text string) int {
			var all []outing.Mark
			all, err = outing.ReadMarks(strings.NewReader(text), "marks")
			return len(all)
		},
		"azimuth_deg,": func(text string) int {
			var all terrain.Skyline
			all, err = terrain.ReadSkyline(strings.NewReader(text+"\n10,1"), "skyline", 10)
			return len(all.Points())
		},
		"name,latitude_deg,longitude_deg,ground_m": func(text string) int {
			var all []radio.Transmitter
			all, err = radio.ReadTransmitters(strings.NewReader(text), "transmitters")
			return len(all)
		},
		"name,latitude_deg,longitude_deg,antenna_m": func(text string) int {
			var all []terrain.Candidate
			all, err = terrain.ReadCandidates(strings.NewReader(text+"\nLee farm,58.3,14.1,2"), "sites")
			return len(all)
		},
		"low_mhz,": func(text string) int {
			var all radio.Seen
			all, err = radio.ReadSeen(strings.NewReader(text+"\n435,436,-30,,10,in"), "signals")
			return len(all.Peaks)
		},
		"frequency_mhz,level_dbm": func(text string) int {
			var all radio.Seen
			all, err = radio.ReadSeen(strings.NewReader(text+"\n435,-30,120,,out"), "spectrum")
			return len(all.Sweeps)
		},
		"frequency_mhz,angle_deg": func(text string) int {
			_, err = radio.ReadPattern(strings.NewReader(text+"\n435,10,9"), "pattern")
			return 1
		},
		"frequency_mhz,loss_db": func(text string) int {
			_, err = radio.ReadLossTable(strings.NewReader(text+"\n435,1.2"), "loss")
			return 1
		},
	}
	lines := strings.Split(shown, "\n")
	for begin, read := range readers {
		found := false
		for i, line := range lines {
			line = strings.TrimSpace(line)
			if !strings.HasPrefix(line, begin) {
				continue
			}
			found = true
			if !strings.HasPrefix(begin, "time") && !strings.Contains(begin, "ground_m") {
				i = len(lines) - 2 // no row follows
			}
			if n := read(line + "\n" + strings.TrimSpace(lines[i+1])); n == 0 || err != nil {
				t.Errorf("%s: %d read, %v", line, n, err)
			}
		}
		if !found {
			t.Errorf("help files shows no %s…", begin)
		}
	}
}

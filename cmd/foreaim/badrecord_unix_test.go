//go:build unix

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/track/outing"
)

// recordLines returns the lines of a record that was cut off: a facing, two
// marks, the confirmed recorder, a command and a note, each with its newline.
func recordLines(t *testing.T, at time.Time, command, note string) []string {
	t.Helper()
	var disk memory
	w := outing.NewWriter(&disk, false)
	for i, e := range []outing.Entry{
		outing.StartEntry{Outing: "meadow"},
		outing.FacingEntry{AzimuthDeg: outing.NumberOf(facingDeg)},
		outing.MarkEntry{ID: 1, Mark: outing.Heard, Time: outing.TimeOf(at)},
		outing.MarkEntry{ID: 2, Mark: outing.NoiseUp, Time: outing.TimeOf(at)},
		outing.CommandEntry{Command: outing.Text(command), When: "rise"},
		outing.NoteEntry{Text: outing.Text(note)},
	} {
		if err := w.Append(outing.Record{At: at.Add(time.Duration(i) * time.Second), Entry: e}); err != nil {
			t.Fatal(err)
		}
	}
	lines := strings.SplitAfter(disk.String(), "\n")
	return lines[:len(lines)-1]
}

// Records that were edited, cut, or written by a newer version: the program says
// clearly what it makes of them, runs nothing that stands in them, and sends
// nothing from them to the terminal as it is.
func TestBadRecordsAtStart(t *testing.T) {
	t.Parallel()
	w := emberlingRising(t, time.Now().Add(-time.Minute))
	elements := writeElements(t, w.Satellites[0].Set)
	// The title of the terminal, a colour, the C1 form of the same, a bell.
	const evil = "\x1b]0;pwned\a\x1b[31mred\u009b35mviolet\a"
	const evilEscaped = `\u001b]0;pwned\u0007\u001b[31mred\u009b35mviolet\u0007`
	newer := `{"v":2,"at":"%s","kind":"facing` + evilEscaped + `","azimuth_deg":10,"note":"` + evilEscaped + `"}` + "\n"
	for _, c := range []struct {
		name  string
		edit  func(lines []string) string
		shown []string // on the screen
		told  []string // when it is left
		fresh bool     // a new record is begun
	}{
		{"edited", func(l []string) string {
			l[1] = strings.Replace(l[1], `"azimuth_deg":105`, `"azimuth_deg":15`, 1)
			return strings.Join(l, "")
		}, []string{"taken up again: 1 heard", "Lines of its record that are not understood: 1", "NOISE UP"},
			[]string{":2: edited or damaged: its checksum is"}, false},
		{"cut", func(l []string) string {
			return strings.Join(l[:4], "") + l[4][:len(l[4])/2]
		}, []string{"taken up again: 1 heard", "NOISE UP", "of ahead"}, []string{":5: cut off: the last record was being written"}, false},
		{"newer line", func(l []string) string {
			return strings.Join(l, "") + fmt.Sprintf(newer, time.Now().UTC().Format(time.RFC3339))
		}, []string{"taken up again: 1 heard", "Lines of its record that are not understood: 1", "of ahead"},
			[]string{":7: written by a newer version: version 2, this program reads 1", "hint: a newer Foreaim reads this record"}, false},
		{"newer record", func([]string) string {
			return fmt.Sprintf(newer, time.Now().UTC().Format(time.RFC3339))
		}, []string{"The last record can't be gone on with, this is a new one"},
			[]string{":1: written by a newer version"}, true},
		{"two outings", func(l []string) string {
			return strings.Join(l, "") + strings.Join(secondOuting(t), "")
		}, []string{"The last record can't be gone on with, this is a new one"},
			[]string{`:7: a second outing begins here`, "hint: one file holds one outing: put the lines from 7 on into a file of their own"}, true},
		{"raw control characters", func(l []string) string {
			return strings.Join(l, "") + `{"v":1,"at":"` + evil + `","kind":"` + evil + `"}` + "\n" + evil + "\n"
		}, []string{"taken up again: 1 heard", "Lines of its record that are not understood: 2", "of ahead"},
			[]string{":7: damaged: it doesn't end in a checksum", ":8: damaged"}, false},
		{"no record at all", func([]string) string { return "\x7fELF\x00\x01" + evil },
			[]string{"The last record can't be gone on with, this is a new one"}, []string{":1: "}, true},
	} {
		state := t.TempDir()
		folder := filepath.Join(state, "foreaim", "outings")
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
		proof := filepath.Join(state, "executed")
		lines := recordLines(t, time.Now().Add(-time.Minute), "touch "+proof, evil+"$(touch "+proof+")")
		before := []byte(c.edit(lines))
		record := filepath.Join(folder, time.Now().Add(-time.Minute).UTC().Format(recordLayout)+recordSuffix)
		if err := os.WriteFile(record, before, 0o600); err != nil {
			t.Fatal(err)
		}
		term := inTerminalWith(t, 100, 30, []string{"XDG_STATE_HOME=" + state}, "--elements", elements,
			"--site", "58.3127,14.0864,131", "--period", "30s", "--first", time.Now().UTC().Format(time.RFC3339))
		term.await(append([]string{"BURST"}, c.shown...)...)
		raw := term.tmux("capture-pane", "-p", "-e")
		for _, bad := range []string{"pwned", "\x1b]", "\u009b", "violet", "\a"} {
			if strings.Contains(raw, bad) {
				t.Errorf("%s: %q is on the screen:\n%q", c.name, bad, raw)
			}
		}
		if title := term.tmux("display-message", "-p", "#{pane_title}"); strings.Contains(title, "pwned") {
			t.Errorf("%s: the terminal's title is %q", c.name, title)
		}
		term.press("q")
		if status := term.ended(); status != "0" {
			t.Errorf("%s: exit status %s", c.name, status)
		}
		left := term.tmux("capture-pane", "-p", "-e", "-J", "-S", "-")
		for _, words := range c.told {
			if !strings.Contains(left, "foreaim: ") || !strings.Contains(left, words) {
				t.Errorf("%s: %q isn't told:\n%s", c.name, words, left)
			}
		}
		if plainly, _, _ := strings.Cut(left, "Pane is dead"); strings.ContainsAny(plainly, "\x1b\a\u009b") {
			t.Errorf("%s: what is told has control characters:\n%q", c.name, left)
		}
		if _, err := os.Stat(proof); err == nil {
			t.Errorf("%s: a text of the record was executed", c.name)
		}
		after, err := os.ReadFile(record)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(after, before) || c.fresh && len(after) != len(before) {
			t.Errorf("%s: the record that was there is changed", c.name)
		}
		files, err := filepath.Glob(filepath.Join(folder, "*"))
		if err != nil || len(files) != 1 && !c.fresh || len(files) != 2 && c.fresh {
			t.Errorf("%s: records %q, %v", c.name, files, err)
		}
		if c.fresh {
			record = files[len(files)-1]
		}
		if _, state := readRecord(t, record); !state.Ended {
			t.Errorf("%s: the record of this outing has no end", c.name)
		}
	}
}

// secondOuting is the beginning of another record.
func secondOuting(t *testing.T) []string {
	t.Helper()
	var disk memory
	r := outing.NewRecorder(&disk, false)
	r.Record(time.Now(), outing.StartEntry{Outing: "hill"})
	if err := r.Close(context.Background()); err != nil {
		t.Fatal(err)
	}
	return []string{disk.String()}
}

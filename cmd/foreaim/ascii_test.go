package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

// Our own wording: degrees stay in words where a sentence needs them, and columns
// stay below their headings.
func TestASCII(t *testing.T) {
	for text, want := range map[string]string{
		"":                                 "",
		"plain text\n":                     "plain text\n",
		"58.3127° N 14.0864° E, 131 m\n":   "58.3127 N 14.0864 E, 131 m\n",
		"up to 3.9° (likely off by 0.1°).": "up to 3.9 deg (likely off by 0.1 deg).",
		"6.1° east ± 0.4°\n":               "6.1 deg east +- 0.4 deg\n",
		" 71.0°    64.8°  ±1.1°  9\n":      " 71.0     64.8   +-1.1  9\n",
		"73.4° S 110.0° W     545\n":       "73.4 S 110.0 W       545\n",
		"  7 ± 2  x":                       "  7 +- 2 x",
		"up 3.9° and on   7\n":             "up 3.9 deg and on 7\n",
		"2 × Ö衛 a\u0301b…":                 "2 x ??? ab...",
		"\xff":                             "?",
		"\r\x1b[K":                         "\r\x1b[K", // our own sign to a terminal
	} {
		if got := ascii(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

func isASCII(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r > unicode.MaxASCII })
}

func FuzzASCII(f *testing.F) {
	f.Add("wide 衛星°  7° east ±\u0301½ x\n")
	f.Fuzz(func(t *testing.T, text string) {
		got := ascii(text)
		if !isASCII(got) {
			t.Errorf("%q is %q", text, got)
		}
		if ascii(got) != got {
			t.Errorf("%q is %q, and that is %q", text, got, ascii(got))
		}
	})
}

// A line that grows beyond a terminal is folded once.
func TestASCIIFolds(t *testing.T) {
	words := "  " + strings.Repeat("word ", 11)
	long, folded := words+"7° east and 12° up.", words+"7 deg east and 12 deg\n  up."
	for text, want := range map[string]string{
		long:                               folded,
		long + "\n" + long + "\n":          folded + "\n" + folded + "\n",
		"x" + long[1:]:                     "x" + words[1:] + "7 deg east and 12 deg\nup.",
		strings.Repeat("x", 79) + "°\n":    strings.Repeat("x", 79) + "\ndeg\n",
		"\t\t" + words + words[:22] + "\n": "\t\t" + words + words[:22] + "\n", // a script's, wider by what tabs are
		strings.Repeat("x", 100) + "°\n":   strings.Repeat("x", 100) + " deg\n",
	} {
		var b bytes.Buffer
		if n, err := (asciiWriter{&b, 80}).Write([]byte(text)); n != len(text) || err != nil || b.String() != want {
			t.Errorf("%d, %v\n%s\nwant\n%s", n, err, b.String(), want)
		}
	}
}

// Where the locale promises no other signs people get ASCII, on both outputs;
// programs get what they always get.
func TestPlainLocale(t *testing.T) {
	beacon := []string{"--period", "30s", "--first", "2026-11-25T16:00:10Z", "--frequency", "436.215M"}
	for _, args := range [][]string{
		with(emberling, "look"), with(emberling, "passes"), with(with(emberling, "bursts"), beacon...),
		with(meadow, "link", "TIDELARK"), {"north", "--site", "58.3127,14.0864"}, {"rehearse", "--help"},
		with(emberling[:2], "elements", "show"), {"gps", "--source", "fixed:58.3127,14.0864,131"},
		{"review", "../../testdata/outing/review_early.jsonl"}, {"look", "Ångström", "--elements", "../../testdata/outing/launch.tle", "--site", "58,14"},
	} {
		_, full, fullErr := runHere(t, t.Context(), args...)
		for _, env := range []map[string]string{{"LC_ALL": "C"}, {"LC_ALL": "", "LANG": "en_IE.ISO-8859-1"}, {"TERM": "vt100"}} {
			_, stdout, stderr := runWith(t, t.Context(), env, args...)
			if !isASCII(stdout+stderr) || strings.Count(stdout, "\n") < strings.Count(full, "\n") {
				t.Errorf("%v in %v:\n%s%s", args, env, stdout, stderr)
			}
			for line := range strings.Lines(stdout) {
				if len(line) > screenWidth+1 {
					t.Errorf("%v in %v: %d columns: %s", args, env, len(line)-1, line)
				}
			}
		}
		if isASCII(full + fullErr) {
			t.Errorf("%v: nothing was tested:\n%s%s", args, full, fullErr)
		}
	}
	file := filepath.Join(t.TempDir(), "anga.json")
	if err := os.WriteFile(file, []byte(`{"OBJECT_NAME":"ÅNGA","EPOCH":"2026-11-24T06:00:00","ECCENTRICITY":0.0011042,"MEAN_MOTION":15.18402917,
"INCLINATION":97.4512,"RA_OF_ASC_NODE":44.183,"ARG_OF_PERICENTER":81.4402,"MEAN_ANOMALY":278.7713,"BSTAR":0.00021037}`), 0o666); err != nil {
		t.Fatal(err)
	}
	named := []string{"elements", "show", "--elements", file}
	for _, args := range [][]string{with(named, "--json"), with(named, "--as", "omm-kvn"), {"completion", "bash"}} {
		_, want, _ := runHere(t, t.Context(), args...)
		_, got, _ := runWith(t, t.Context(), map[string]string{"LC_ALL": "C"}, args...)
		if got != want || isASCII(got) {
			t.Errorf("%v: got\n%s\nwant\n%s", args, got, want)
		}
	}
}

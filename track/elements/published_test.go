package elements

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Source: SGP4-VER.TLE of AIAA 2006-6753. Its wrong checksums are those that
// ../../testdata/README.md lists; set 33334 turns 0.00001 times a day.
func TestPublishedSets(t *testing.T) {
	sets, err := Read(strings.NewReader(readFile(t, "SGP4-VER.TLE")), "SGP4-VER.TLE")
	if len(sets) != 30 {
		t.Errorf("%d good sets, want 30 of 33", len(sets))
	}
	var got []string
	for _, f := range faults(t, err) {
		got = append(got, fmt.Sprintf("%d:%d found %q want %q", f.Line, f.Column, f.Found, f.Want))
	}
	want := []string{
		`100:69 found "4" want "2"`,
		`101:69 found "8" want "0"`,
		`103:69 found "9" want "6"`,
		`104:53 found " 0.00001000" want "0.001 to 18 revolutions a day"`,
		`106:69 found "0" want "3"`,
		`107:69 found "1" want "7"`,
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("faults:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Every published set, its checksums put right, is written back as published
// but for what may be spelled in two ways.
func TestPublishedSetsWrittenBack(t *testing.T) {
	written := 0
	var line1 string
	for line := range strings.Lines(readFile(t, "SGP4-VER.TLE")) {
		switch line[0] {
		case '1':
			line1 = line[:68]
		case '2':
			line2 := line[:68]
			if strings.HasPrefix(line1, "1 33334") {
				continue // its mean motion is out of range
			}
			set := mustRead(t, withChecksum(line1)+"\n"+withChecksum(line2))[0]
			out1, out2, err := set.TLE()
			if err != nil {
				t.Error(err)
				continue
			}
			if want := withChecksum(usualSpelling(line1)); out1 != want {
				t.Errorf("wrote\n%s, want\n%s", out1, want)
			}
			if want := withChecksum(line2); out2 != want {
				t.Errorf("wrote\n%s, want\n%s", out2, want)
			}
			written++
		}
	}
	if written != 32 {
		t.Errorf("%d sets written, want 32", written)
	}
}

func withChecksum(line string) string { return fmt.Sprintf("%s%d", line[:68], Checksum(line)) }

// usualSpelling makes a power of zero positive and the ephemeris type 0.
func usualSpelling(line1 string) string {
	b := []byte(line1)
	for _, power := range []int{51, 60} { // columns, counted from 1
		if b[power] == '0' {
			b[power-1] = '+'
		}
	}
	b[62] = '0'
	return string(b)
}

// Source: T. S. Kelso, "NORAD Two-Line Element Set Format", columns; values
// read by eye from the published lines of AIAA 2006-6753.
func TestFieldsOfPublishedSets(t *testing.T) {
	sets, _ := Read(strings.NewReader(readFile(t, "SGP4-VER.TLE")), "f")
	byNumber := map[int]Set{}
	for _, s := range sets {
		byNumber[s.CatalogueNumber] = s
	}
	for _, want := range []Set{
		{
			CatalogueNumber: 16925, Designator: "1986-065D", Classification: 'U', Epoch: time.Date(2006, 5, 31, 16, 10, 47, 226_144_000, time.UTC),
			MeanMotionRevPerDay: 4.88511875, Eccentricity: 0.5596327, InclinationDeg: 62.0906, NodeDeg: 295.0239, PerigeeDeg: 245.1593, AnomalyDeg: 47.9690,
			BStar: 0.18784e-3, MeanMotionDot: 0.02550794, MeanMotionDDot: -0.30915e-6, ElementNumber: 448, RevolutionNumber: 14861,
		},
		{ // blank designator and ephemeris type
			CatalogueNumber: 11801, Classification: 'U', Epoch: time.Date(1980, 8, 17, 7, 6, 40, 136_832_000, time.UTC),
			MeanMotionRevPerDay: 2.28537848, Eccentricity: 0.7318036, InclinationDeg: 46.7916, NodeDeg: 230.4354, PerigeeDeg: 47.4722, AnomalyDeg: 10.4117,
			BStar: 0.14311e-1, MeanMotionDot: 0.01431103, ElementNumber: 1, RevolutionNumber: 1,
		},
		{ // negative drag; a revolution number of five digits against the mean motion
			CatalogueNumber: 21897, Designator: "1992-011A", Classification: 'U', Epoch: time.Date(2006, 6, 25, 0, 33, 42, 834_816_000, time.UTC),
			MeanMotionRevPerDay: 2.01269994, Eccentricity: 0.7421690, InclinationDeg: 62.1749, NodeDeg: 198.0096, PerigeeDeg: 253.0462, AnomalyDeg: 20.1561,
			BStar: -0.13525e-3, MeanMotionDot: -0.00001273, ElementNumber: 304, RevolutionNumber: 10488,
		},
		{ // a piece of two letters; powers of zero
			CatalogueNumber: 29141, Designator: "1985-108AA", Classification: 'U', Epoch: time.Date(2006, 6, 19, 6, 25, 41, 242_080_000, time.UTC),
			MeanMotionRevPerDay: 15.93343074, Eccentricity: 0.0015848, InclinationDeg: 82.4288, NodeDeg: 273.4882, PerigeeDeg: 277.2124, AnomalyDeg: 83.9133,
			BStar: 0.13519, MeanMotionDot: 0.99999999, ElementNumber: 71, RevolutionNumber: 682,
		},
	} {
		if got := byNumber[want.CatalogueNumber].bare(); got != want {
			t.Errorf("set %d:\n%+v, want\n%+v", want.CatalogueNumber, got, want)
		}
	}
}

// Source: tle_line_cases.csv (published, invented and altered lines).
func TestSingleLines(t *testing.T) {
	for _, row := range rows(t, "tle_line_cases.csv") {
		line, expect := row[0], row[1]
		if line == "1 99003U 26903C   26326.00000000 -.00000021  00000+0  00000+0 0  9992" && expect != "ok" {
			t.Fatal("the cases have changed")
		}
		// A line 2 needs a sound line 1 before it, of the same number.
		text, at := line, 1
		if line[0] == '2' {
			text, at = withChecksum("1"+line[1:7]+"U 26901A   26324.25873342  .00004770  00000+0  22159-3 0  999")+"\n"+line, 2
		}
		_, err := Read(strings.NewReader(text), "f")
		var found string
		for _, f := range faults(t, err) {
			switch {
			case f.What == "line 1 without a line 2 after it":
			case f.Line != at:
				t.Errorf("%q: fault in line %d: %v", line, f.Line, f)
			case f.What == "wrong checksum" && f.Column == 69:
				found = "checksum_bad"
			case strings.HasPrefix(f.What, "line ends after column ") && f.Column == len(line)+1:
				found = "too_short"
			default:
				found = fmt.Sprintf("field at %d", f.Column)
			}
		}
		want := map[string]string{"ok": "", "checksum_ok": "field at 53", "field": "field at 3"}
		expected, listed := want[expect]
		if !listed {
			expected = expect
		}
		if found != expected {
			t.Errorf("%q (%s): found %q, want %q", line, row[3], found, expected)
		}
	}
}

// Source: catalog_number_vectors.csv (gp-omm-conformance, after the published
// Alpha-5 table).
func TestCatalogueNumbers(t *testing.T) {
	for _, row := range rows(t, "catalog_number_vectors.csv") {
		number, _ := digits(row[0])
		switch row[2] {
		case "both":
			if got, err := ParseAlpha5(row[1]); got != number || err != nil {
				t.Errorf("ParseAlpha5(%q) = %d, %v, want %d", row[1], got, err, number)
			}
			if got, err := FormatAlpha5(number); got != row[1] || err != nil {
				t.Errorf("FormatAlpha5(%d) = %q, %v, want %q", number, got, err, row[1])
			}
		case "decode_invalid":
			if got, err := ParseAlpha5(row[1]); err == nil {
				t.Errorf("ParseAlpha5(%q) = %d, want an error: %s", row[1], got, row[3])
			}
		case "encode_impossible":
			if row[0] == "-1" {
				number = -1
			}
			if got, err := FormatAlpha5(number); err == nil {
				t.Errorf("FormatAlpha5(%d) = %q, want an error: %s", number, got, row[3])
			}
		default:
			t.Errorf("unknown use %q", row[2])
		}
	}
}

// Source: epoch_vectors.csv (CCSDS 502.0-B-3, 7.5.10; T. S. Kelso 1998;
// arithmetic).
func TestEpochs(t *testing.T) {
	for _, row := range rows(t, "epoch_vectors.csv") {
		kind, text, use := row[0], row[1], row[3]
		parse := parseOMMEpoch
		if kind == "tle" {
			parse = parseTLEEpoch
		}
		got, ok := parse([]byte(text))
		if use == "invalid" {
			if ok {
				t.Errorf("%s epoch %q read as %v, want refused", kind, text, got)
			}
			continue
		}
		want, err := time.Parse("2006-01-02T15:04:05", row[2])
		if err != nil {
			t.Fatal(err)
		}
		if text == "2016-12-31T23:59:60" {
			want = want.Add(time.Second) // the other reading that the source accepts
		}
		if !ok || !got.Equal(want) {
			t.Errorf("%s epoch %q read as %v, want %v", kind, text, got, want)
		}
		if kind != "tle" {
			continue
		}
		if back, err := formatTLEEpoch(want); back != text || err != nil {
			t.Errorf("%v written as %q, %v, want %q", want, back, err, text)
		}
	}
}

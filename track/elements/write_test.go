package elements

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"time"
)

// writers are all encodings of OMM.
var writers = map[Format]func(io.Writer, []Set) error{JSON: WriteJSON, XML: WriteXML, CSV: WriteCSV, KVN: WriteKVN}

func written(t testing.TB, f Format, sets []Set) string {
	t.Helper()
	var b bytes.Buffer
	if err := writers[f](&b, sets); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Source: the same invented sets in files that this package did not write.
func TestWrittenAsServed(t *testing.T) {
	for _, c := range []struct {
		from, want string
		format     Format
	}{
		{"omm/invented1.tle", "omm/invented1.json", JSON},
		{"omm/invented_all.csv", "omm/invented_all.json", JSON},
		{"omm/invented_all.json", "omm/invented_all.csv", CSV},
		{"omm/invented2_six_digit.xml", "omm/invented2_six_digit.kvn", KVN},
		{"omm/invented2_six_digit.kvn", "omm/invented2_six_digit.xml", XML},
		{"omm/invented1.kvn", "omm/invented1.xml", XML},
	} {
		got, want := written(t, c.format, mustRead(t, readFile(t, c.from))), readFile(t, c.want)
		if c.format == XML { // the blanks between elements differ, and the version
			unspaced := strings.NewReplacer("\n", "", `version="2.0"`, `version="3.0"`)
			got, want = unspaced.Replace(got), unspaced.Replace(want)
		}
		if got != want {
			t.Errorf("%s written as %s:\n%s\nwant\n%s", c.from, c.format, got, want)
		}
	}
}

// fullSet has something in every block.
func fullSet(t testing.TB) Set {
	s := mustRead(t, readFile(t, "omm/ccsds_502_0_B_3_figure_G10.xml"))[0]
	s.Rest = Rest("COMMENT=a, \"b\" & <c>\nCOMMENT==d [km]\n" + strings.Replace(strings.Replace(string(s.Rest), "COMMENT=THIS IS AN XML VERSION OF THE OMM\n", "", 1),
		"COV_REF_FRAME", "MASS=.5e+2\nDRAG_COEFF=2.2\nCOV_REF_FRAME", 1) + "USER_DEFINED_A=1 [km]\nUSER_DEFINED_B_2=x=\"y\", z\\\n")
	s.Name, s.CatalogueNumber = `KELPIE "A", B & <C> [deg] = \ü`, 999_999_999
	s.Epoch = s.Epoch.Add(123 * time.Nanosecond)
	s.Eccentricity, s.BStar, s.MeanMotionDDot = 0.1+0.2, -1e-300, 5e-324
	return s
}

// Whatever a set holds comes back from every encoding, alone and among others
// that lack it.
func TestRoundTripBetweenEncodings(t *testing.T) {
	bare := Set{Epoch: time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC), MeanMotionRevPerDay: 15, InclinationDeg: 97}
	sets := []Set{bare, fullSet(t), bare, mustRead(t, line1+"\n"+line2)[0]}
	for from := range writers {
		text := written(t, from, sets)
		for to := range writers {
			back := mustRead(t, written(t, to, mustRead(t, text)))
			if len(back) != len(sets) {
				t.Errorf("%s to %s: %d sets, want %d", from, to, len(back), len(sets))
				continue
			}
			for i := range back {
				if back[i].Format != to {
					t.Errorf("format %s, want %s", back[i].Format, to)
				}
				if got, want := back[i].bare(), sets[i].bare(); got != want {
					t.Errorf("%s to %s, set %d:\n%+v, want\n%+v", from, to, i, got, want)
				}
			}
		}
	}
}

// Programs other than this one read what is written: the standard library's
// parsers find the same texts.
func TestWrittenIsWellFormed(t *testing.T) {
	full := fullSet(t)
	var message struct {
		Omm []struct {
			Name    string   `xml:"body>segment>metadata>OBJECT_NAME"`
			Comment []string `xml:"header>COMMENT"`
			Mass    float64  `xml:"body>segment>data>spacecraftParameters>MASS"`
			User    []struct {
				Parameter string `xml:"parameter,attr"`
				Value     string `xml:",chardata"`
			} `xml:"body>segment>data>userDefinedParameters>USER_DEFINED"`
		} `xml:"omm"`
	}
	if err := xml.Unmarshal([]byte(written(t, XML, []Set{full})), &message); err != nil {
		t.Fatal(err)
	}
	if m := message.Omm[0]; m.Name != full.Name || m.Mass != 50 || len(m.Comment) != 2 || m.Comment[0] != `a, "b" & <c>` ||
		len(m.User) != 2 || m.User[1].Parameter != "B_2" || m.User[1].Value != `x="y", z\` {
		t.Errorf("XML: %+v", m)
	}
	var objects []map[string]any
	if err := json.Unmarshal([]byte(written(t, JSON, []Set{full})), &objects); err != nil {
		t.Fatal(err)
	}
	if o := objects[0]; o["OBJECT_NAME"] != full.Name || o["CX_X"] != 3.331349476038534e-04 || o["MASS"] != ".5e+2" || o["NORAD_CAT_ID"] != 999_999_999.0 {
		t.Errorf("JSON: %v", o)
	}
	table, err := csv.NewReader(strings.NewReader(written(t, CSV, []Set{full}))).ReadAll()
	if err != nil || len(table) != 2 || table[0][0] != "COMMENT" || table[1][0] != "a, \"b\" & <c>\n=d [km]" {
		t.Errorf("CSV: %q, %v", table, err)
	}
}

func TestNotWritten(t *testing.T) {
	good := fullSet(t)
	for _, c := range []struct {
		change func(*Set)
		want   string
	}{
		{func(s *Set) { s.InclinationDeg = 181 }, "inclination is 181, want 0 to 180 degrees"},
		{func(s *Set) { s.CatalogueNumber = 1_000_000_000 }, "catalogue number 1000000000, element number 925 or revolution number 4316 is not from 0 to 999999999"},
		{func(s *Set) { s.ElementNumber = -1 }, "catalogue number 999999999, element number -1 or revolution number 4316 is not from 0 to 999999999"},
		{func(s *Set) { s.Classification = 'X' }, "classification is 'X', want U, C, S or none"},
		{func(s *Set) { s.Epoch = time.Time{} }, "epoch in the year 1, want 1957 to 2199"},
		{func(s *Set) { s.Rest = "EPOCH=2026-11-20T00:00:00\n" }, `"EPOCH" is not a keyword for Rest`},
		{func(s *Set) { s.Rest = "ORIGINATOR=\x1b[2J\n" }, `ORIGINATOR is "\x1b[2J" in Rest, want text without control characters and blanks around it`},
		{func(s *Set) { s.Rest = "MASS=NaN\n" }, `MASS is "NaN" in Rest, want a number`},
		{func(s *Set) { s.Rest = "MASS=1" }, "Rest does not end with a line end"},
		{func(s *Set) { s.Rest = "MASS=1\nGM=2\n" }, "GM is out of order in Rest"},
		{func(s *Set) { s.Rest = "USER_DEFINED_A=1\nUSER_DEFINED_A=2\n" }, "USER_DEFINED_A is out of order in Rest"},
	} {
		bad := good
		c.change(&bad)
		for format, write := range writers {
			var b bytes.Buffer
			if err := write(&b, []Set{good, bad}); err == nil || !strings.HasSuffix(err.Error(), " can't be written as an OMM: "+c.want) {
				t.Errorf("%s: error %v, want … %s", format, err, c.want)
			}
		}
	}
}

// The epochs of the standard's forms are in epoch_vectors.csv; written ones
// keep the nanosecond.
func TestWrittenEpoch(t *testing.T) {
	for text, want := range map[string]time.Time{
		"2026-11-22T00:00:00.000000":    time.Date(2026, 11, 22, 1, 0, 0, 0, time.FixedZone("", 3600)),
		"2026-11-22T23:59:59.999999001": time.Date(2026, 11, 22, 23, 59, 59, 999999001, time.UTC),
	} {
		got, ok := parseOMMEpoch([]byte(text))
		if formatOMMEpoch(want) != text || !ok || !got.Equal(want) {
			t.Errorf("%v written as %s, read back as %v", want, formatOMMEpoch(want), got)
		}
	}
}

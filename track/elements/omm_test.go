package elements

import (
	"fmt"
	"strings"
	"testing"
)

// Source: ../../testdata/orbits/omm, the same sets in several encodings.
func TestOMMEqualsTLE(t *testing.T) {
	for _, c := range []struct {
		json, tle string
		count     int
	}{
		{"omm/invented1.json", "omm/invented1.tle", 1},
		{"omm/invented2_six_digit.json", "omm/invented2_six_digit_alpha5.tle", 1},
		{"omm/invented2_six_digit_strings.json", "omm/invented2_six_digit_alpha5.tle", 1},
		{"omm/invented_all.json", "omm/invented_all.tle", 3},
	} {
		fromJSON, fromTLE := mustRead(t, readFile(t, c.json)), mustRead(t, readFile(t, c.tle))
		if len(fromJSON) != c.count || len(fromTLE) != c.count {
			t.Errorf("%s: %d and %d sets, want %d", c.json, len(fromJSON), len(fromTLE), c.count)
			continue
		}
		for i := range fromJSON {
			if fromJSON[i].Format != JSON || fromTLE[i].Format != TLE {
				t.Errorf("%s: formats %s and %s", c.json, fromJSON[i].Format, fromTLE[i].Format)
			}
			if a, b := fromJSON[i].bare(), fromTLE[i].bare(); a != b {
				t.Errorf("%s:\n%+v, from the TLE\n%+v", c.json, a, b)
			}
		}
	}
}

// Source: catalog_100000.json, whose eccentricity and drag have more digits
// than its TLE.
func TestSixDigitObjectWrittenAsTLE(t *testing.T) {
	set := mustRead(t, readFile(t, "omm/catalog_100000.json"))[0]
	if set.Eccentricity != 0.00055903 || set.BStar != 0.00022159168 || set.CatalogueNumber != 100000 {
		t.Errorf("digits were lost: %+v", set)
	}
	line1, line2, err := set.TLE()
	if err != nil {
		t.Fatal(err)
	}
	want := readFile(t, "omm/catalog_100000_alpha5.tle")
	if got := line1 + "\n" + line2 + "\n"; !strings.HasSuffix(want, "\n"+got) {
		t.Errorf("wrote\n%swant the lines of\n%s", got, want)
	}
}

// omm is a good message in lines, one keyword each, with keywords replaced or,
// by an empty text, left out.
func omm(changes ...string) string {
	pairs := []string{
		"OBJECT_NAME", `"KELPIE"`, "EPOCH", `"2026-11-20T06:12:34.567488"`, "MEAN_MOTION", "15.2", "ECCENTRICITY", "0.001",
		"INCLINATION", "97.5", "RA_OF_ASC_NODE", "24.1", "ARG_OF_PERICENTER", "87.6", "MEAN_ANOMALY", "272.6",
		"NORAD_CAT_ID", "99001", "BSTAR", "0.0002",
	}
	for i := 0; i < len(changes); i += 2 {
		found := false
		for j := 0; j < len(pairs); j += 2 {
			if pairs[j] == changes[i] {
				pairs[j+1], found = changes[i+1], true
			}
		}
		if !found {
			pairs = append(pairs, changes[i], changes[i+1])
		}
	}
	var lines []string
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			lines = append(lines, fmt.Sprintf(" %q: %s", pairs[i], pairs[i+1]))
		}
	}
	return "{\n" + strings.Join(lines, ",\n") + "\n}\n"
}

func TestOMMAccepted(t *testing.T) {
	plain := mustRead(t, omm())[0].bare()
	for name, text := range map[string]string{
		"array":               "[" + omm() + "]",
		"byte order mark":     "\xef\xbb\xbf\r\n" + omm(),
		"CRLF":                strings.ReplaceAll(omm(), "\n", "\r\n"),
		"unknown keys":        omm("ORIGINATOR", `""`, "X", `{"EPOCH": [1, {"a": "}"}], "b": null}`, "epoch", `"?"`),
		"null":                omm("MEAN_MOTION_DOT", "null", "OBJECT_ID", "null"),
		"empty":               omm("CREATION_DATE", `""`, "OBJECT_ID", `""`, "ELEMENT_SET_NO", `""`),
		"defaults spelled":    omm("CENTER_NAME", `"EARTH"`, "REF_FRAME", `"TEME"`, "TIME_SYSTEM", `"UTC"`, "MEAN_ELEMENT_THEORY", `"SGP4"`),
		"theory's other name": omm("MEAN_ELEMENT_THEORY", `"SGP/SGP4"`, "EPHEMERIS_TYPE", `"2"`),
		"strings":             omm("MEAN_MOTION", `"+15.2"`, "ECCENTRICITY", `".001"`, "BSTAR", `"2.0e-4"`, "NORAD_CAT_ID", `"+000099001"`),
		"whole with a point":  omm("NORAD_CAT_ID", "99001.0"),
		"escapes":             omm("OBJECT_NAME", `"\u004bELPIE\u001b\n\ud83d"`),
		"angle by the left":   omm("RA_OF_ASC_NODE", "-335.9"),
	} {
		got := mustRead(t, text)[0].bare()
		if name == "angle by the left" && got.NodeDeg > 24.0999999 && got.NodeDeg < 24.1000001 {
			got.NodeDeg = plain.NodeDeg
		}
		if got != plain {
			t.Errorf("%s:\n%+v, want\n%+v", name, got, plain)
		}
	}
	if got := mustRead(t, omm("NORAD_CAT_ID", "799501621"))[0].CatalogueNumber; got != 799501621 {
		t.Errorf("nine digits read as %d", got)
	}
	if got := mustRead(t, omm("NORAD_CAT_ID", ""))[0].CatalogueNumber; got != 0 {
		t.Errorf("no catalogue number read as %d", got)
	}
}

func TestOMMRefused(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"missing", omm("EPOCH", "", "BSTAR", "null"), `f:1:1: KELPIE has no EPOCH, BSTAR`},
		{"semi-major axis", omm("MEAN_MOTION", "", "SEMI_MAJOR_AXIS", "6900"), `f:1:1: KELPIE has no MEAN_MOTION; SEMI_MAJOR_AXIS does not stand in for it`},
		{"theory", omm("MEAN_ELEMENT_THEORY", `"SGP4-XP"`), `f:12:25: MEAN_ELEMENT_THEORY does not fit SGP4, found "SGP4-XP", want SGP4 or SGP/SGP4`},
		{"type", omm("EPHEMERIS_TYPE", `4`), `f:12:20: EPHEMERIS_TYPE 4 is SGP4-XP: its elements do not fit SGP4, found "4", want 0 or 2`},
		{"frame", omm("REF_FRAME", `"EME2000"`), `f:12:15: REF_FRAME does not fit SGP4, found "EME2000", want TEME`},
		{"time", omm("TIME_SYSTEM", `"TAI"`), `f:12:17: TIME_SYSTEM does not fit SGP4, found "TAI", want UTC`},
		{"centre", omm("CENTER_NAME", `"MARS"`), `f:12:17: CENTER_NAME does not fit SGP4, found "MARS", want EARTH`},
		{"NaN", omm("BSTAR", "NaN"), `f:11:11: not a JSON value, found "NaN", want a number, or text in double quotes`},
		{"NaN in quotes", omm("BSTAR", `"NaN"`), `f:11:11: BSTAR is not a number, found "NaN", want -100 to 100 per Earth radius`},
		{"infinite", omm("MEAN_MOTION", `"Infinity"`), `f:4:17: MEAN_MOTION is not a number, found "Infinity", want 0.001 to 18 revolutions a day`},
		{"huge", omm("MEAN_MOTION", `1e999`), `f:4:17: MEAN_MOTION is out of range, found "1e999", want 0.001 to 18 revolutions a day`},
		{"hexadecimal", omm("INCLINATION", `"0x1p6"`), `f:6:17: INCLINATION is not a number, found "0x1p6", want 0 to 180 degrees`},
		{"range", omm("INCLINATION", `-0.1`), `f:6:17: INCLINATION is out of range, found "-0.1", want 0 to 180 degrees`},
		{"parabola", omm("ECCENTRICITY", `1`), `f:5:18: ECCENTRICITY is out of range, found "1", want 0 to 0.9999999`},
		{"epoch", omm("EPOCH", `"2026-11-20 06:12:34"`), `f:3:11: EPOCH is not a time, found "2026-11-20 06:12:34", want YYYY-MM-DDThh:mm:ss or YYYY-DDDThh:mm:ss with digits after the point and Z as needed`},
		{"number", omm("NORAD_CAT_ID", `"A0000"`), `f:10:18: NORAD_CAT_ID is not a whole number, found "A0000", want 0 to 999999999`},
		{"half a number", omm("NORAD_CAT_ID", `99001.5`), `f:10:18: NORAD_CAT_ID is not a whole number, found "99001.5", want 0 to 999999999`},
		{"true", omm("BSTAR", `true`), `f:11:11: BSTAR is not a number, found "true", want -100 to 100 per Earth radius`},
		{"object", omm("BSTAR", `{"value": 1}`), `f:11:11: BSTAR is not a number, want -100 to 100 per Earth radius`},
		{"name", omm("OBJECT_NAME", `7`), `f:2:17: OBJECT_NAME is not a text, found "7", want text in double quotes`},
		{"twice", strings.Replace(omm(), "\n}", ",\n \"BSTAR\": 0.0002\n}", 1), `f:12:2: the key BSTAR is there twice`},
		{"column after other letters", omm("OBJECT_NAME", `"Käßö", "BSTAR": 0.0002`), `f:11:2: the key BSTAR is there twice`},
		{"not an object", "[7]", `f:1:2: an element of the array is not an object, want an OMM: an object with OBJECT_NAME, EPOCH and so on`},
		{"a word", "[A", "f:1:2: an element of the array is not an object, want an OMM: an object with OBJECT_NAME, EPOCH and so on\nf:1:3: the JSON ends too early"},
		{"empty array", " []", `f:1:1: no element sets in the file`},
		{"cut", omm()[:40], `f:3:13: the JSON ends too early`},
		{"cut in a text", `{"OBJECT_NAME": "KEL` + "\n", `f:2:1: a text in quotes is not ended on its line, want a closing quote`},
		{"comma missing", `[{"EPOCH": "" "BSTAR": 1}]`, `f:1:15: the JSON is damaged, found "\"", want a comma or }`},
		{"comma too many", `[{"EPOCH": "",}]`, `f:1:15: the JSON is damaged, found "}", want a key in double quotes`},
		{"escape", `{"OBJECT_NAME": "\x"}`, `f:1:20: a text in quotes has a wrong escape, want one of \" \\ \/ \b \f \n \r \t \u0000`},
		{"deep", `{"a": ` + strings.Repeat("[", 5000), `f:1:108: JSON nested too deeply, want at most 100 levels`},
	} {
		sets, err := Read(strings.NewReader(c.text), "f")
		if err == nil || err.Error() != c.want || len(sets) != 0 {
			t.Errorf("%s: %d sets and error\n%v\nwant\n%s", c.name, len(sets), err, c.want)
		}
	}
}

func TestBadMessageHidesNoGoodOne(t *testing.T) {
	text := "[" + omm("OBJECT_NAME", `"A"`) + "," + omm("BSTAR", "") + "," + omm("OBJECT_NAME", `"B"`) + "]"
	sets, err := Read(strings.NewReader(text), "f")
	if len(sets) != 2 || sets[0].Name != "A" || sets[1].Name != "B" || sets[1].Line != 24 {
		t.Errorf("sets %+v, want A and B, the latter from line 24", sets)
	}
	if want := "f:13:2: KELPIE has no BSTAR"; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
	sets, err = Read(strings.NewReader("["+omm()+","+omm()[:100]), "f")
	if len(sets) != 1 || err == nil {
		t.Errorf("cut after the first: %d sets, error %v, want 1 and an error", len(sets), err)
	}
	sets, err = Read(strings.NewReader(omm()+"]"), "f")
	if want := "f:13:1: text after the end of the JSON, found \"]\", want one object or one array of objects"; len(sets) != 1 || err == nil || err.Error() != want {
		t.Errorf("text after the end: %d sets, error %v, want 1 and %s", len(sets), err, want)
	}
}

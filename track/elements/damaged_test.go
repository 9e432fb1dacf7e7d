package elements

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"
)

// encodings are the same sets in all encodings, and packed.
func encodings(t *testing.T, sets []Set) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for f := range writers {
		texts[string(f)] = written(t, f, sets)
	}
	var b bytes.Buffer
	if err := WriteTLE(&b, sets); err != nil {
		t.Fatal(err)
	}
	texts["tle"] = b.String()
	texts["gzip"] = packed(t, texts["omm-json"])
	return texts
}

func packed(t testing.TB, text string) string {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := io.WriteString(z, text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// needed is what SGP4 takes of a set.
func (s Set) needed() Set {
	return Set{
		Epoch: s.Epoch, MeanMotionRevPerDay: s.MeanMotionRevPerDay, Eccentricity: s.Eccentricity, InclinationDeg: s.InclinationDeg,
		NodeDeg: s.NodeDeg, PerigeeDeg: s.PerigeeDeg, AnomalyDeg: s.AnomalyDeg, BStar: s.BStar,
	}
}

// Wherever a file is cut there is no set with a cut number, and one fault, or
// none where the cut can't be seen: after a whole line, or in a value that is
// only carried along.
func TestCutAnywhere(t *testing.T) {
	sets := mustRead(t, readFile(t, "omm/invented_all.tle"))
	for name, text := range encodings(t, sets) {
		quiet := 0
		for n := range len(text) {
			got, err := Read(strings.NewReader(text[:n]), "f")
			if err == nil {
				quiet++
			} else if f := faults(t, err); len(f) != 1 {
				t.Errorf("%s cut after %d bytes has %d faults: %v", name, n, len(f), err)
			}
			for i := range got {
				if got[i].needed() != sets[i].needed() {
					t.Errorf("%s cut after %d bytes: set %d is %+v, want %+v", name, n, i, got[i], sets[i])
				}
			}
		}
		// XML and JSON have closing marks; so has a TLE, its checksums.
		if limit := map[string]int{"tle": 3 * 4, "omm-xml": 1, "omm-json": 1, "omm-csv": 3 * 4, "omm-kvn": 3 * 70}[name]; quiet > limit {
			t.Errorf("%s: %d cuts are not seen, want at most %d", name, quiet, limit)
		}
	}
}

// Each encoding is refused as one thing, not line by line, when it is in
// another character encoding.
func TestWrongCharacters(t *testing.T) {
	set := mustRead(t, line1+"\n"+line2)
	set[0].Name = "KÄLPIE"
	for name, text := range encodings(t, set) {
		if name == "gzip" {
			continue
		}
		for _, order := range []string{"little", "little with a mark", "big"} {
			_, err := Read(strings.NewReader(wide(text, order)), "f")
			if f := faults(t, err); len(f) != 1 || f[0].What != "text in UTF-16" || f[0].Hint() == "" {
				t.Errorf("%s in UTF-16, %s: %v", name, order, err)
			}
		}
		if name == "tle" {
			continue // of a TLE's name only the wrong character is dropped
		}
		latin := strings.Replace(text, "Ä", "\xc4", 1)
		sets, err := Read(strings.NewReader(latin), "f")
		if f := faults(t, err); len(sets) != 0 || len(f) != 1 || f[0].What != "OBJECT_NAME is not text in UTF-8" || f[0].Hint() != "save the file as UTF-8" {
			t.Errorf("%s in Latin-1: %v", name, err)
		}
	}
}

func wide(text, order string) string {
	var b []byte
	for _, u := range utf16.Encode([]rune(text)) {
		if order == "big" {
			b = append(b, byte(u>>8), byte(u))
		} else {
			b = append(b, byte(u), byte(u>>8))
		}
	}
	if order == "little with a mark" {
		return "\xff\xfe" + string(b)
	}
	return string(b)
}

// The values that no number may have, in every encoding: one fault each, which
// names the keyword, at the value.
func TestNoNumbers(t *testing.T) {
	good := fullSet(t)
	good.BStar = 0.000123
	for format := range writers {
		text := written(t, format, []Set{good})
		for _, bad := range []string{"NaN", "Infinity", "-inf", "1e999", "0x1p-3", "12,5", "1 2", "--1", "e", "1" + strings.Repeat("0", 3000)} {
			if format == CSV && bad == "12,5" {
				continue // a cell more
			}
			damaged := strings.Replace(text, "0.000123", bad, 1)
			if format == JSON {
				damaged = strings.Replace(text, "0.000123", `"`+bad+`"`, 1)
			}
			sets, err := Read(strings.NewReader(damaged), "f")
			f := faults(t, err)
			at := strings.Index(text, "0.000123")
			line := 1 + strings.Count(text[:at], "\n")
			column := len([]rune(text[strings.LastIndexByte(text[:at], '\n')+1:at])) + 1
			if len(sets) != 0 || len(f) != 1 || !strings.HasPrefix(f[0].What, "BSTAR is ") || f[0].Line != line || f[0].Column != column {
				t.Errorf("%s with %.10s: %d sets, %v, want one fault at %d:%d", format, bad, len(sets), err, line, column)
			}
			carried := strings.Replace(text, "3.331349476038534e-04", strings.Replace(bad, ",", ".", 1)+"x", 1)
			if format == JSON {
				carried = strings.Replace(text, "3.331349476038534e-04", `"`+bad+`x"`, 1)
			}
			if f := faults(t, second(Read(strings.NewReader(carried), "f"))); len(f) != 1 || f[0].What != "CX_X is not a number" {
				t.Errorf("%s with %.10s in the covariance: %v", format, bad, f)
			}
		}
	}
}

func second(_ []Set, err error) error { return err }

// The same keyword twice is a fault in every encoding; the place is the second.
func TestTwice(t *testing.T) {
	good := fullSet(t)
	for format, c := range map[Format]struct{ old, new, want string }{
		JSON: {`"BSTAR":`, `"BSTAR":1,"BSTAR":`, "the key BSTAR is there twice"},
		KVN:  {"BSTAR =", "BSTAR = 1\nBSTAR =", "the key BSTAR is there twice"},
		XML:  {"<BSTAR>", "<BSTAR>1</BSTAR><BSTAR>", "the key BSTAR is there twice"},
		CSV:  {",BSTAR,", ",BSTAR,BSTAR,", "the key BSTAR is there twice"},
	} {
		text := written(t, format, []Set{good})
		if !strings.Contains(text, c.old) {
			t.Fatalf("%s has no %s", format, c.old)
		}
		_, err := Read(strings.NewReader(strings.Replace(text, c.old, c.new, 1)), "f")
		if f := faults(t, err); len(f) != 1 || f[0].What != c.want {
			t.Errorf("%s: %v, want %s", format, err, c.want)
		}
	}
	for _, text := range []string{
		strings.Replace(written(t, KVN, []Set{good}), "USER_DEFINED_B_2", "USER_DEFINED_A", 1),
		strings.Replace(written(t, XML, []Set{good}), `"B_2"`, `"A"`, 1),
		strings.Replace(written(t, JSON, []Set{good}), "USER_DEFINED_B_2", "USER_DEFINED_A", 1),
		strings.Replace(written(t, CSV, []Set{good}), "USER_DEFINED_B_2", "USER_DEFINED_A", 1),
	} {
		if f := faults(t, second(Read(strings.NewReader(text), "f"))); len(f) != 1 || f[0].What != "the key USER_DEFINED_A is there twice" {
			t.Errorf("%v, want that USER_DEFINED_A is there twice", f)
		}
	}
}

// A reader that fails is one fault, whatever was missing then.
func TestReaderFails(t *testing.T) {
	broken := errors.New("the disk is gone")
	for name, text := range encodings(t, mustRead(t, readFile(t, "omm/invented_all.tle"))) {
		for _, n := range []int{0, 1, len(text) / 2, len(text) - 1} {
			r := io.MultiReader(strings.NewReader(text[:n]), iotest.ErrReader(broken))
			_, err := Read(iotest.OneByteReader(r), "f")
			if f := faults(t, err); len(f) != 1 || !errors.Is(err, broken) {
				t.Errorf("%s failing after %d bytes: %v", name, n, err)
			}
		}
	}
}

func TestPacked(t *testing.T) {
	text := readFile(t, "omm/invented_all.tle")
	want := mustRead(t, text)
	for name, file := range map[string]string{"whole": packed(t, text), "two parts": packed(t, text[:300]) + packed(t, text[300:])} {
		got := mustRead(t, file)
		if len(got) != 3 || got[2] != want[2] {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
	for name, c := range map[string]struct{ file, want string }{
		"twice":   {packed(t, packed(t, text)), "f:1:1: a file packed twice, want " + formats},
		"changed": {packed(t, text)[:50] + "\x00\x00" + packed(t, text)[52:], "the packed file is damaged"},
		"head":    {"\x1f\x8b\x08", "f:1:1: the file can't be read on: the packed file is damaged: unexpected EOF"},
		"empty":   {packed(t, ""), "f:1:1: no element sets in the file"},
	} {
		_, err := Read(strings.NewReader(c.file), "f")
		if f := faults(t, err); len(f) != 1 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	bomb := &bounded{from: &endless{text: " "}, left: 10_000}
	if n, err := io.Copy(io.Discard, bomb); n != 10_000 || err == nil || !strings.Contains(err.Error(), "more than 512 MiB") {
		t.Errorf("read %d bytes, error %v, want 10000 and that it is too much", n, err)
	}
}

// A message without end, which packs into a few kilobytes, is one fault and
// does not fill the memory; the good message after it is read.
func TestEndlessMessage(t *testing.T) {
	sets := mustRead(t, readFile(t, "omm/invented_all.tle"))[:1]
	good := func(f Format) string { return written(t, f, sets) }
	long := `"EPOCH":"` + strings.Repeat("x", maxText) + `",`
	for name, c := range map[string]struct {
		text, want string
		sets       int
	}{
		"JSON comments": {`[{"COMMENT":["` + strings.Repeat(`","`, maxMore) + `"]},` + strings.TrimPrefix(good(JSON), "["), "beyond any length", 1},
		"JSON keys":     {`[{` + strings.Repeat(long, maxMessage/maxText+2) + `"GM":1},` + strings.TrimPrefix(good(JSON), "["), "is there twice", 1},
		"KVN":           {"CCSDS_OMM_VERS = 3.0\n" + strings.Repeat("COMMENT\n", maxMore+1) + good(KVN), "beyond any length", 1},
		"XML":           {strings.Replace(good(XML), "<ndm>", "<ndm><omm>"+strings.Repeat("<COMMENT/>", maxMore+1)+"</omm>", 1), "beyond any length", 1},
		"CSV":           {"EPOCH,MEAN_MOTION" + strings.Repeat(",", maxColumns), "too many columns, want at most 1000", 0},
	} {
		got, err := Read(strings.NewReader(c.text), "f")
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Count(err.Error(), "beyond any length") > 1 || len(got) != c.sets {
			t.Errorf("%s: %d sets and error %v, want %d and %q", name, len(got), err, c.sets, c.want)
		}
	}
	// However long it is, no more is kept.
	var m message
	m.src = newSource(nil, "f", nil)
	for range 10 * maxMore {
		if _, v := m.slot([]byte(comment.String()), 1, 1); v != nil {
			m.put(v, []byte("x"), 1, 1)
		}
	}
	if len(m.more) > maxMore || len(m.src.faults.All) != 1 {
		t.Errorf("%d comments are kept and %d faults told, want at most %d and one", len(m.more), len(m.src.faults.All), maxMore)
	}
}

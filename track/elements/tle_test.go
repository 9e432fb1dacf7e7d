package elements

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

// Invented lines, from ../../testdata/orbits/omm/invented_all.tle.
const (
	line1 = "1 99001U 26901A   26324.25873342  .00004770  00000+0  22159-3 0  9997"
	line2 = "2 99001  97.4593  24.1070 0012345  87.6543 272.6142 15.20467281 12340"
	other = "1 99003U 26903C   26326.00000000 -.00000021  00000+0  00000+0 0  9992\n" +
		"2 99003  55.1120 122.9981 0098120  48.6610 312.2150  2.00572351   889\n"
)

func TestTLELayouts(t *testing.T) {
	pair := line1 + "\n" + line2
	want := mustRead(t, pair)[0].bare()
	for name, c := range map[string]struct {
		text, label string
		line        int
	}{
		"two lines":            {pair, "", 1},
		"name":                 {"KELPIE\n" + pair + "\n", "KELPIE", 1},
		"name after 0":         {"0 KELPIE 2\n" + pair, "KELPIE 2", 1},
		"name of a digit":      {"2 SISTERS\n" + pair, "2 SISTERS", 1},
		"name like a line":     {"1 FOR ALL\n" + pair, "1 FOR ALL", 1},
		"only 0":               {"0 \n" + pair, "", 1},
		"CRLF":                 {"KELPIE  \r\n" + line1 + "\r\n" + line2 + "\r\n", "KELPIE", 1},
		"trailing blanks":      {"KELPIE \t \n" + line1 + "   \n" + line2 + " \t\n", "KELPIE", 1},
		"blank lines":          {"\n\r\n KELPIE\n\n" + line1 + "\n  \n" + line2 + "\n\n\n", "KELPIE", 3},
		"byte order mark":      {"\xef\xbb\xbf" + pair, "", 1},
		"indented":             {"  " + line1 + "\n\t" + line2, "", 1},
		"comments":             {"# from the post\n" + line1 + "\n# and\n" + line2, "", 2},
		"more after column 69": {line1 + "\n" + line2 + "   0.0   1440.0  120.00\n", "", 1},
		"controls in the name": {"KEL\x1b[31mPIE\x07\u009b\u202e\u200b\xff\n" + pair, "KEL[31mPIE", 1},
		"other letters":        {"Käßö\tÆ\u00a01\n" + pair, "Käßö Æ 1", 1},
		"a long name":          {strings.Repeat("ö", 100) + "\n" + pair, strings.Repeat("ö", 64), 1},
		"a byte at a time":     {pair, "", 1},
	} {
		var r io.Reader = strings.NewReader(c.text)
		if name == "a byte at a time" {
			r = iotest.OneByteReader(r)
		}
		sets, err := Read(r, "file.txt")
		if err != nil || len(sets) != 1 {
			t.Errorf("%s: %d sets, error %v", name, len(sets), err)
			continue
		}
		got := sets[0]
		if got.Name != c.label || got.Line != c.line || got.File != "file.txt" || got.Format != TLE {
			t.Errorf("%s: name %q, line %d, file %q, format %q, want %q, %d", name, got.Name, got.Line, got.File, got.Format, c.label, c.line)
		}
		got.Name = ""
		if got.bare() != want {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
}

// altered puts text at a column, counted from 1, and sets the checksum right.
func altered(line string, column int, text string) string {
	return withChecksum(line[:column-1] + text + line[column-1+len(text):])
}

func TestTLERefused(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", `f:1:1: no element sets in the file`},
		{"only blanks", " \n\r\n", `f:1:1: no element sets in the file`},
		{"only comments", "# none\n# today\n", `f:1:1: no element sets in the file`},
		{"only an endless line", strings.Repeat("x", 5000), `f:1:1: line too long, want 69 columns`},
		{"other text", "\nDear reader,\nno elements today.\n", `f:2:1: no element lines: neither TLE nor OMM, found "Dear reader,"`},
		{"web page", "\n<!DOCTYPE html><p>busy", `f:2:1: a web page, not elements, want two-line elements, or OMM in JSON, XML, CSV or KVN`},
		{"packed otherwise", "PK\x03\x04", `f:1:1: a compressed file other than gzip, want two-line elements, or OMM in JSON, XML, CSV or KVN`},
		{"UTF-16", "\xff\xfe1\x00 \x00", `f:1:1: text in UTF-16, want two-line elements, or OMM in JSON, XML, CSV or KVN`},
		{"UTF-16 that does not say so", "1\x00 \x009\x00", `f:1:1: text in UTF-16, want two-line elements, or OMM in JSON, XML, CSV or KVN`},
		{"binary", "\x7fELF\x00\x01", `f:1:1: binary data, not elements, want two-line elements, or OMM in JSON, XML, CSV or KVN`},
		{"one line", line1, `f:1:1: line 1 without a line 2 after it`},
		{"line 2 alone", "KELPIE\n" + line2, `f:2:1: line 2 without a line 1 before it, found "2 99001  97.4593  24.1070 0012345  87.65..."`},
		{"cut", line1 + "\n" + line2[:30], `f:2:31: line ends after column 30, want 69 columns`},
		{"cut early", line1 + "\n" + line2[:9], `f:2:8: line ends after column 7, want 69 columns`},
		{"cut after the name", line1 + "\n" + line2 + "\nSELKIE\n", `f:3:1: a name, or other text, without element lines after it, found "SELKIE"`},
		{"a character more", line1[:20] + "0" + line1[20:] + "\n" + line2, `f:1:70: line goes on after column 69, found "7", want 69 columns`},
		{"two objects", line1 + "\n" + other[70:], `f:2:3: line 2 is of another object than line 1, found "99003", want 99001`},
		{"indented", "   " + altered(line1, 8, "X") + "\n" + line2, `f:1:11: not a classification, found "X", want U, C, S or a blank`},
		{"SGP4-XP", altered(line1, 63, "4") + "\n" + line2, `f:1:63: ephemeris type 4, SGP4-XP: its elements do not fit SGP4, found "4", want 0, 2 or a blank`},
		{"other type", altered(line1, 63, "6") + "\n" + line2, `f:1:63: ephemeris type is not one of SGP4, found "6", want 0, 2 or a blank`},
		{"designator", altered(line1, 10, "269 1A") + "\n" + line2, `f:1:10: not an international designator, found "269 1A", want year, launch number and piece, such as 26014B`},
		{"between fields", altered(line1, 18, "1") + "\n" + line2, `f:1:18: column 18 is not blank, found "1", want a blank between the fields`},
		{"day 366 of 2026", altered(line1, 21, "366") + "\n" + line2, `f:1:19: not an epoch, found "26366.25873342", want YYDDD.DDDDDDDD: year, day of the year from 001`},
		{"day 0", altered(line1, 21, "000") + "\n" + line2, `f:1:19: not an epoch, found "26000.25873342", want YYDDD.DDDDDDDD: year, day of the year from 001`},
		{"shifted", altered(line1, 34, ".00004770 ") + "\n" + line2, `f:1:34: first derivative of the mean motion is not a number, found ".00004770 ", want digits with the point in column 35`},
		{"digit before the point", altered(line1, 34, "1") + "\n" + line2, `f:1:34: first derivative of the mean motion is not a number, found "1.00004770", want digits with the point in column 35`},
		{"power", altered(line1, 54, " 22159x3") + "\n" + line2, `f:1:54: drag term is not a number, found " 22159x3", want a form like " 12345-6" for 0.12345e-6`},
		{"no drag", altered(line1, 54, "        ") + "\n" + line2, `f:1:54: drag term is not a number, found "        ", want a form like " 12345-6" for 0.12345e-6`},
		{"drag beyond reason", altered(line1, 54, " 22159+9") + "\n" + line2, `f:1:54: drag term out of range, found " 22159+9", want -100 to 100 per Earth radius`},
		{"element number", altered(line1, 65, " 9 9") + "\n" + line2, `f:1:65: element number is not a number, found "9 9", want digits`},
		{"inclination", line1 + "\n" + altered(line2, 9, "180.0001"), `f:2:9: inclination out of range, found "180.0001", want 0 to 180 degrees`},
		{"negative node", line1 + "\n" + altered(line2, 18, "-24.1070"), `f:2:18: right ascension of the node is not a number, found "-24.1070", want digits with the point in column 21`},
		{"whole turn and more", line1 + "\n" + altered(line2, 35, "360.0001"), `f:2:35: argument of perigee out of range, found "360.0001", want -360 to 360 degrees`},
		{"eccentricity", line1 + "\n" + altered(line2, 27, "00.2345"), `f:2:27: eccentricity is not a number, found "00.2345", want digits without a point`},
		{"still", line1 + "\n" + altered(line2, 53, " 0.00000000"), `f:2:53: mean motion out of range, found " 0.00000000", want 0.001 to 18 revolutions a day`},
		{"inside the Earth", line1 + "\n" + altered(line2, 53, "19.00000000"), `f:2:53: mean motion out of range, found "19.00000000", want 0.001 to 18 revolutions a day`},
		{"endless line", line1 + "\n" + strings.Repeat("2", 100_000) + "\n", "f:2:1: line too long, want 69 columns\nf:1:1: line 1 without a line 2 after it"},
	} {
		sets, err := Read(strings.NewReader(c.text), "f")
		if c.name == "cut after the name" {
			sets = sets[1:]
		}
		if err == nil || err.Error() != c.want || len(sets) != 0 {
			t.Errorf("%s: %d sets and error\n%v\nwant\n%s", c.name, len(sets), err, c.want)
		}
	}
}

func TestBadSetHidesNoGoodOne(t *testing.T) {
	bad := strings.Replace(line1, "4770", "4771", 1) + "\n" + line2 + "\n"
	sets, err := Read(strings.NewReader("A\n"+bad+"B\n"+other+bad+line1+"\n"+"C\n"+other), "f")
	if len(sets) != 2 || sets[0].Name != "B" || sets[1].Name != "C" {
		t.Errorf("sets %+v, want B and C", sets)
	}
	want := "f:2:69: wrong checksum, found \"7\", want 8\nf:7:69: wrong checksum, found \"7\", want 8\nf:9:1: line 1 without a line 2 after it"
	if err == nil || err.Error() != want {
		t.Errorf("error\n%v\nwant\n%s", err, want)
	}
	if hint := err.(interface{ Hint() string }).Hint(); !strings.Contains(hint, "fetch the elements again") {
		t.Errorf("hint %q", hint)
	}
}

func TestManyFaultsArePrintedShort(t *testing.T) {
	_, err := Read(strings.NewReader(other+strings.Repeat("stray text\n", 1500)), "f")
	if lines := strings.Split(err.Error(), "\n"); len(lines) != 6 || lines[5] != "and 1495 more" {
		t.Errorf("%d lines, the last %q, want 6 and how many more of 1500", len(lines), lines[len(lines)-1])
	}
	var one *Error
	if !errors.As(err, &one) || one.Line != 3 {
		t.Errorf("first fault %+v, want one in line 3", one)
	}
	if n := len(faults(t, err)); n > maxErrors {
		t.Errorf("%d faults kept, want at most %d", n, maxErrors)
	}
}

func TestUnreadableFile(t *testing.T) {
	broken := errors.New("the disk\x1b is gone")
	for _, text := range []string{other + line1 + "\n", "[" + omm() + ","} {
		sets, err := Read(io.MultiReader(strings.NewReader(text), iotest.ErrReader(broken)), "f\x1b")
		if len(sets) != 1 || !errors.Is(err, broken) || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%d sets, error %q, want one set and the reader's error without control characters", len(sets), err)
		}
	}
}

func TestChecksumDigits(t *testing.T) {
	// Source: T. S. Kelso, "NORAD Two-Line Element Set Format": digits count
	// their value, a minus 1, all else 0; 45 is the sum of the ten digits.
	for text, want := range map[string]int{"": 0, "0123456789": 5, "-": 1, "+.A Z": 0, "1-9": 1, strings.Repeat(" ", 68) + "7": 0} {
		if got := Checksum(text); got != want {
			t.Errorf("Checksum(%q) = %d, want %d", text, got, want)
		}
	}
}

func TestTLERounds(t *testing.T) {
	set := mustRead(t, line1+"\n"+line2)[0]
	for name, c := range map[string]struct {
		change func(*Set)
		line   int
		column int
		want   string
	}{
		"no number":          {func(s *Set) { s.CatalogueNumber = 0 }, 1, 3, "00000"},
		"Alpha-5":            {func(s *Set) { s.CatalogueNumber = 339999 }, 2, 3, "Z9999"},
		"half a tick":        {func(s *Set) { s.Epoch = s.Epoch.Add(432 * time.Microsecond) }, 1, 19, "26324.25873343"},
		"under half a tick":  {func(s *Set) { s.Epoch = s.Epoch.Add(431_999) }, 1, 19, "26324.25873342"},
		"into the new year":  {func(s *Set) { s.Epoch = time.Date(2024, 12, 31, 23, 59, 59, 999_999_000, time.UTC) }, 1, 19, "25001.00000000"},
		"another zone":       {func(s *Set) { s.Epoch = s.Epoch.In(time.FixedZone("", 3600)) }, 1, 19, "26324.25873342"},
		"up to a turn":       {func(s *Set) { s.NodeDeg = 359.99999 }, 2, 18, "  0.0000"},
		"negative angle":     {func(s *Set) { s.AnomalyDeg = -90 }, 2, 44, "270.0000"},
		"small drag":         {func(s *Set) { s.BStar = -1.2344e-12 }, 1, 54, "-00123-9"},
		"no drag to speak":   {func(s *Set) { s.BStar = -1e-20 }, 1, 54, " 00000+0"},
		"drag of six digits": {func(s *Set) { s.BStar = 0.000999996 }, 1, 54, " 10000-2"},
		"derivative of zero": {func(s *Set) { s.MeanMotionDot = -1e-12 }, 1, 34, " .00000000"},
		"odd designator":     {func(s *Set) { s.Designator = "UNKNOWN" }, 1, 10, "        "},
		"many revolutions":   {func(s *Set) { s.RevolutionNumber = 1234567 }, 2, 64, "34567"},
	} {
		changed := set
		c.change(&changed)
		line1, line2, err := changed.TLE()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		line := []string{line1, line2}[c.line-1]
		if got := line[c.column-1 : c.column-1+len(c.want)]; got != c.want {
			t.Errorf("%s: columns from %d are %q, want %q", name, c.column, got, c.want)
		}
		mustRead(t, line1+"\n"+line2)
	}
}

func TestTLERefusesWhatDoesNotFit(t *testing.T) {
	set := mustRead(t, line1+"\n"+line2)[0]
	for want, change := range map[string]func(*Set){
		"KELPIE (340000) can't be written as a TLE: catalogue number 340000 does not fit a TLE, which ends at 339999": func(s *Set) { s.Name, s.CatalogueNumber = "KELPIE", 340000 },
		"epoch in the year 2057": func(s *Set) { s.Epoch = time.Date(2056, 12, 31, 23, 59, 59, 999_999_999, time.UTC) },
		"epoch in the year 1956": func(s *Set) { s.Epoch = time.Date(1956, 12, 31, 0, 0, 0, 0, time.UTC) },
		"mean motion is 0,":      func(s *Set) { *s = Set{} },
		"mean anomaly is NaN":    func(s *Set) { s.AnomalyDeg = math.NaN() },
		"drag term is +Inf":      func(s *Set) { s.BStar = math.Inf(1) },
		"first derivative of the mean motion of 0.999999999 is too large": func(s *Set) { s.MeanMotionDot = 0.999999999 },
		"classification is 'X'": func(s *Set) { s.Classification = 'X' },
		"is negative":           func(s *Set) { s.ElementNumber = -1 },
	} {
		changed := set
		change(&changed)
		if l1, l2, err := changed.TLE(); err == nil || !strings.Contains(err.Error(), want) || l1+l2 != "" {
			t.Errorf("%q %q, error %v, want %q", l1, l2, err, want)
		}
	}
}

func TestAge(t *testing.T) {
	set := mustRead(t, other)[0]
	if got := fmt.Sprint(set.Age(time.Date(2026, 11, 21, 22, 0, 0, 0, time.UTC)), set.Age(time.Date(2026, 11, 23, 0, 0, 0, 0, time.UTC))); got != "-2h0m0s 24h0m0s" {
		t.Errorf("ages %s, want -2h0m0s 24h0m0s", got)
	}
}

package csvfile

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// masts is an invented kind of file with one column of every sort.
var masts = Format{
	What:     "a file of masts",
	Needs:    []string{"name", "level_db|level_dbm"},
	May:      []string{"low_mhz", "side", "seen"},
	MaxBytes: 1 << 20,
}

// mast is a row of it.
type mast struct {
	Line   int
	Name   string
	Level  float64
	LowMHz float64
	HasLow bool
	Side   string
	Seen   time.Time
}

// read reads them all.
func read(r io.Reader) ([]mast, error) {
	t := Open(r, "m.csv", masts)
	level := "level_db"
	if t.Has("level_dbm") {
		level = "level_dbm"
	}
	var all []mast
	for t.Next() {
		m := mast{Line: t.Line(), Name: t.Words("name"), Level: t.Number(level, -200, 100.5), Side: t.Choice("side", "in", "out", "")}
		m.LowMHz, m.HasLow = t.Maybe("low_mhz", 0, 3e8)
		if t.Has("seen") {
			m.Seen = t.Time("seen")
		}
		if m.Name == "twice" {
			t.Fail("name", "keep one", "%q is in line %d already", m.Name, 2)
		}
		all = append(all, m)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	return all, nil
}

func TestTable(t *testing.T) {
	got, err := read(strings.NewReader("\xef\xbb\xbf# seen from the hill\r\n" +
		"side, level_dbm,name,low_mhz,seen\r\n" +
		"in,-30.5,\"Tall, \nred \x1b[31m\",,2026-03-01T13:00:31.5+01:00\r\n" +
		"\r\n# a line between\r\n" +
		" ,1e1,b\xff\u202ec,145.5,2026-03-01T12:00:31.4996Z\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := []mast{
		{Line: 3, Name: "Tall,  red [31m", Level: -30.5, Side: "in", Seen: time.Date(2026, 3, 1, 12, 0, 31, 5e8, time.UTC)},
		{Line: 7, Name: "bc", Level: 10, LowMHz: 145.5, HasLow: true, Seen: time.Date(2026, 3, 1, 12, 0, 31, 5e8, time.UTC)},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestTableRefuses(t *testing.T) {
	const (
		head = "name,level_db,low_mhz,side,seen\n"
		good = "Hill,3,,,2026-03-01T12:00:31Z\n"
		hint = "the columns are name, level_db or level_dbm; there may be low_mhz, side, seen"
	)
	for _, c := range []struct{ name, text, want, hint string }{
		{"empty", "", "m.csv:1:1: empty, want a line of column names", hint},
		{"only comments", "# nothing\n\n", "m.csv:1:1: empty, want a line of column names", hint},
		{"unknown column", "name,level_db,hei\x1bght\n", `m.csv:1:15: unknown column "height"`, hint},
		{"column twice", "name,level_db,name\n", `m.csv:1:15: column "name" is there twice`, hint},
		{"semicolons", "name;level_db\nHill;3\n", `m.csv:1:1: the columns are separated by ";", want a comma`, hint},
		{"tabs", "# a line\nname\tlevel_db\n", `m.csv:2:1: the columns are separated by "\t", want a comma`, hint},
		{"UTF-16", "\xff\xfen\x00a\x00m\x00e\x00", "m.csv:1:1: binary data or text in UTF-16, want CSV in UTF-8", hint},
		{"quote among the names", "na\"me\n", `m.csv:1:3: not CSV: bare " in non-quoted-field`, hint},
		{"missing", "level_db\n", `m.csv:1:1: column "name" is missing`, hint},
		{"neither", "name,side\n", `m.csv:1:1: column "level_db" or "level_dbm" is missing`, hint},
		{"both", "name,level_dbm,level_db\n", `m.csv:1:1: both "level_db" and "level_dbm" are there, want one`, hint},
		{"short row", head + good + "Hill,3\n", "m.csv:3:6: 2 cells, want 5 as in the line of column names", ""},
		{"long row", "name,level_db\nHill,3,4\n", "m.csv:2:6: 3 cells, want 2 as in the line of column names", ""},
		{"no name", head + " \x1b ,3,,,2026-03-01T12:00:31Z\n", "m.csv:2:1: name is empty", ""},
		{"no number", head + "Hill,loud,,,2026-03-01T12:00:31Z\n", `m.csv:2:6: level_db is "loud", want a number of dB, -200 to 100.5`, ""},
		{"empty number", head + "Hill,,,,2026-03-01T12:00:31Z\n", `m.csv:2:6: level_db is "", want a number of dB, -200 to 100.5`, ""},
		{"NaN", head + "Hill,nan,,,2026-03-01T12:00:31Z\n", `m.csv:2:6: level_db is "nan", want a number of dB, -200 to 100.5`, ""},
		{"low", "name,level_dbm\nHill,-200.1\n", `m.csv:2:6: level_dbm is "-200.1", want a number of dBm, -200 to 100.5`, ""},
		{"optional number", head + "Hill,3,-1,,2026-03-01T12:00:31Z\n", `m.csv:2:8: low_mhz is "-1", want a number of MHz, 0 to 3e+08`, ""},
		{"choice", head + "Hill,3,,up,2026-03-01T12:00:31Z\n", `m.csv:2:9: side is "up", want in, out or nothing`, ""},
		{"time without zone", head + "Hill,3,,,2026-03-01T12:00:31\n", `m.csv:2:10: seen is "2026-03-01T12:00:31", want a time such as 2026-03-01T12:00:31.500Z`, ""},
		{"time out of range", head + "Hill,3,,,0000-03-01T12:00:31Z\n", `m.csv:2:10: seen is "0000-03-01T12:00:31Z", want a time of the years 1957 to 2200`, ""},
		{"time too late", head + "Hill,3,,,2999-03-01T12:00:31Z\n", `m.csv:2:10: seen is "2999-03-01T12:00:31Z", want a time of the years 1957 to 2200`, ""},
		{"found by the caller", head + good + "twice,3,,,2026-03-01T12:00:31Z\n", `m.csv:3:1: "twice" is in line 2 already`, "keep one"},
		{"the first counts", "name,level_db\n,loud\n", "m.csv:2:1: name is empty", ""},
		{"open quote", "name,level_db\nHill,\"3\n", `m.csv:2:9: not CSV: extraneous or missing " in quoted-field`, ""},
		{"long cell", "name,level_db\nHill," + strings.Repeat("9", 99) + "x\n", `m.csv:2:6: level_db is "` + strings.Repeat("9", maxFound) + `...", want a number of dB, -200 to 100.5`, ""},
		{"endless", "name,level_db\n" + strings.Repeat("#", 1<<20), "m.csv:1:1: more than 1 MiB: not a file of masts", ""},
		{"cut within a row", "name,level_db\n" + strings.Repeat("Hill,3\n", 1<<18), "m.csv:1:1: more than 1 MiB: not a file of masts", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			all, err := read(strings.NewReader(c.text))
			var fault *Error
			if all != nil || !errors.As(err, &fault) || err.Error() != c.want || fault.Hint() != c.hint {
				t.Fatalf("%v, %v, want error\n%s\nand hint %q", all, err, c.want, c.hint)
			}
		})
	}
}

// The reader's own error is kept, with the line on which it came.
func TestTableTellsWhatStoppedTheReading(t *testing.T) {
	for text, want := range map[string]string{
		"":                        "m.csv:1:1: can't be read on: ",
		"name,level_db\nHill,3\n": "m.csv:3:1: can't be read on: ",
	} {
		_, err := read(io.MultiReader(strings.NewReader(text), iotest.ErrReader(io.ErrClosedPipe)))
		if !errors.Is(err, io.ErrClosedPipe) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("after %q: %v, want %s", text, err, want)
		}
	}
}

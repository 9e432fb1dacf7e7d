package csvfile

import (
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// hasUnprintable tells whether a text could do anything but be shown.
func hasUnprintable(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) })
}

// What is read and written again is read as the same; what is refused is refused
// in one printable line with a place.
func FuzzTable(f *testing.F) {
	f.Add("name,level_db\nHill,3\n")
	f.Add("\xef\xbb\xbf#x\nside,level_dbm,name,low_mhz,seen\nin,-30.5,\"a \"\"b\"\"\n\",,2026-03-01T13:00:31.5+01:00\n")
	f.Add("name,level_db\n\"#x\",1\n")
	f.Add("name,level_db\n\"Hill,1\n")
	f.Add("name,hei\x1bght\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := read(strings.NewReader(text))
		if err != nil {
			var fault *Error
			if !errors.As(err, &fault) || fault.Line < 1 || fault.Column < 1 || fault.Line > strings.Count(text, "\n")+2 {
				t.Errorf("%v: no such place", err)
			}
			if all != nil || hasUnprintable(err.Error()) || fault != nil && hasUnprintable(fault.Hint()) {
				t.Errorf("%v, %q", all, err)
			}
			return
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		_ = w.Write([]string{"low_mhz", "name", "level_db", "side"}) // a Builder never fails
		for _, m := range all {
			if m.Name == "" || hasUnprintable(m.Name) || utf8.RuneCountInString(m.Name) > maxText || !(m.Level >= -200 && m.Level <= 100.5) {
				t.Fatalf("%+v", m)
			}
			low := ""
			if m.HasLow {
				low = strconv.FormatFloat(m.LowMHz, 'g', -1, 64)
			}
			_ = w.Write([]string{low, m.Name, strconv.FormatFloat(m.Level, 'g', -1, 64), m.Side})
		}
		w.Flush()
		again, err := read(strings.NewReader(b.String()))
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		for i := range again { // what was not written
			again[i].Line, again[i].Seen = all[i].Line, all[i].Seen
		}
		if diff := cmp.Diff(all, again); diff != "" {
			t.Error(diff)
		}
	})
}

func FuzzClean(f *testing.F) {
	f.Add("two\nlines \x1b[31m", 9)
	f.Add(" \u202e\u2028 \xff", 3)
	f.Fuzz(func(t *testing.T, text string, limit int) {
		limit = min(max(limit, 0), 1<<20)
		got := Clean(text, limit)
		if hasUnprintable(got) || utf8.RuneCountInString(got) > limit || got != strings.Trim(got, " ") {
			t.Errorf("%q", got)
		}
		if Clean(got, limit) != got {
			t.Errorf("%q is cleaned to %q", got, Clean(got, limit))
		}
	})
}

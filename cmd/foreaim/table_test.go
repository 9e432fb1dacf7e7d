package main

import (
	"strings"
	"testing"
	"time"
)

func TestTable(t *testing.T) {
	rows := newTable("name", ">height", "empty", "note")
	rows.add("wide 衛星", "7", "", "a")
	rows.add("x\x1b[0m", "1234567", "", "")
	want := "name        height  note\nwide 衛星        7  a\nx[0m       1234567\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Only a table that is wider than a terminal has headings in two lines.
func TestTableWiderThanATerminal(t *testing.T) {
	rows := newTable("what", ">range km", ">give or take it", "note")
	rows.add("a", "850", "0.3 s", strings.Repeat("x", 46))
	want := "what  range km  give or take it  note\na          850            0.3 s  " + strings.Repeat("x", 46) + "\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	rows.add("b", "9", "", strings.Repeat("x", 48))
	want = "      range  give or\nwhat     km  take it  note\na       850    0.3 s  " + strings.Repeat("x", 46) +
		"\nb         9           " + strings.Repeat("x", 48) + "\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestClockColumn(t *testing.T) {
	sys := system{local: time.FixedZone("CET", 3600)}
	late := time.Date(2026, 11, 25, 22, 59, 59, 400e6, time.UTC)
	for _, c := range []struct {
		times         []time.Time
		heading, cell string
	}{
		{[]time.Time{late, late.Add(-time.Hour)}, "2026-11-25 CET", "23:59:59"},
		{[]time.Time{late, late.Add(100 * time.Millisecond)}, "local time", "2026-11-25 23:59:59 CET"},
	} {
		heading, say := sys.clockColumn(c.times)
		if heading != c.heading || say(late) != c.cell {
			t.Errorf("%v: %q, %q; want %q, %q", c.times, heading, say(late), c.heading, c.cell)
		}
	}
}

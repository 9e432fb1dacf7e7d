package main

import (
	"strings"
	"testing"
	"time"

	"foreaim/track"
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

// Columns stand closer together only where that makes them fit.
func TestTableCloserTogether(t *testing.T) {
	for wide, gap := range map[int]string{74: "  ", 75: " ", 76: " ", 77: "  "} {
		rows := newTable("a", "b", "c")
		rows.add("x", "y", strings.Repeat("z", wide))
		last := "x" + gap + "y" + gap + strings.Repeat("z", wide) + "\n"
		if want := "a" + gap + "b" + gap + "c\n" + last; rows.String() != want {
			t.Errorf("%d wide: got\n%s\nwant\n%s", wide, rows, want)
		}
	}
}

// A table that is too wide loses what it can spare, one column after the other,
// and says so; then it is parted, between groups of columns only.
func TestTableTooWide(t *testing.T) {
	for _, c := range []struct {
		wide  int    // the columns of each of two big ones
		heads string // the headings of all parts
		gone  string
	}{
		{31, "no a b c a: one b: one", ""},
		{35, "no a b c a: one b: one", ""},
		{36, "no a c a: one b: one", "b"},
		{37, "no c a: one b: one", "b, a"},
		{38, "no a: one b: one", "b, a, c"},
		{39, "no a: one | no b: one", "b, a, c"},
		{74, "no a: one | no b: one", "b, a, c"},
	} {
		big := strings.Repeat("z", c.wide)
		rows := newTable(">no", "a", "b", "c", "a: one", "b: one", "b: two")
		rows.spare, rows.keys = []string{"b", "a", "c"}, 1
		rows.add("1", "w", "x", "y", big, big, "")
		got := rows.String()
		var heads []string
		for line := range strings.Lines(got) {
			if len(line) > screenWidth+1 {
				t.Errorf("%d wide: %d columns: %s", c.wide, len(line), line)
			}
			if strings.HasPrefix(line, "no") {
				heads = append(heads, strings.Join(strings.Fields(line), " "))
			}
		}
		_, gone, _ := strings.Cut(got, "Left out to fit: ")
		if gone = strings.TrimSuffix(gone, "; --json has them.\n"); strings.Join(heads, " | ") != c.heads || gone != c.gone {
			t.Errorf("%d wide: want %q, without %q, got\n%s", c.wide, c.heads, c.gone, got)
		}
	}
	rows := newTable(">no", "a: one", "b: one", "b: two")
	rows.keys = 1
	rows.add("1", strings.Repeat("x", 30), strings.Repeat("y", 30), strings.Repeat("z", 30))
	want := "no  a: one\n 1  " + strings.Repeat("x", 30) + "\n\nno  b: one                          b: two\n 1  " +
		strings.Repeat("y", 30) + "  " + strings.Repeat("z", 30) + "\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Words of a last column go on below where there is no room.
func TestTableWraps(t *testing.T) {
	rows := newTable(">no", "name", "words")
	rows.wraps = true
	rows.add("1", strings.Repeat("x", 50), "twenty columns long, and more of them than fit")
	rows.add("2", "short", "few")
	blank := strings.Repeat(" ", 56)
	want := "no  name" + blank[8:] + "words\n 1  " + strings.Repeat("x", 50) + "  twenty columns long, and\n" +
		blank + "more of them than fit\n 2  short" + blank[9:] + "few\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRiseColumn(t *testing.T) {
	at := func(text string) passOf { return passOf{Pass: track.Pass{Rise: track.Look{Time: mustTime(text)}}} }
	passes := []passOf{at("2026-11-25T23:30:00Z"), at("2026-11-26T12:00:00Z")}
	for _, c := range []struct {
		zone                *time.Location
		heading, cell, note string
	}{
		{time.UTC, "rises 2026, UTC", "11-25 23:30:00", ""},
		{testZone, "rises 2026, CET", "11-26 00:30:00", "CET is 1h ahead of UTC. "},
		{time.FixedZone("X", -9000), "rises 2026, X", "11-25 21:00:00", "X is 2h30m behind UTC. "},
	} {
		got := system{local: c.zone}.riseColumn(passes)
		if got.heading != c.heading || got.say(passes[0].Rise.Time) != c.cell || got.note != c.note || got.utc(passes[0].Rise.Time) != "" {
			t.Errorf("%v: %q, %q, %q", c.zone, got.heading, got.say(passes[0].Rise.Time), got.note)
		}
	}
}

// From one year to the next the year is said in each row.
func TestRiseColumnAtNewYear(t *testing.T) {
	at := func(text string) passOf { return passOf{Pass: track.Pass{Rise: track.Look{Time: mustTime(text)}}} }
	passes := []passOf{at("2026-12-31T22:30:00Z"), at("2026-12-31T23:30:00Z")}
	got := system{local: testZone}.riseColumn(passes)
	if cell := got.say(passes[1].Rise.Time); got.heading != "rises, local time" || cell != "2027-01-01 00:30:00 CET" {
		t.Errorf("%q, %q", got.heading, cell)
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

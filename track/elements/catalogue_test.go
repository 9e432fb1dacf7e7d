package elements

import (
	"errors"
	"io"
	"iter"
	"strings"
	"testing"
	"time"
)

func TestMatch(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 11, n, 0, 0, 0, 0, time.UTC) }
	var c Catalogue
	for _, s := range []Set{
		{Name: "BIG KELPIE", CatalogueNumber: 70012, Epoch: day(1)},
		{Name: "OKELPIE", CatalogueNumber: 270123, Designator: "2026-902B", Epoch: day(1)},
		{Name: "KELPIE 2", CatalogueNumber: 99001, Epoch: day(2)},
		{Name: "", CatalogueNumber: 12, Epoch: day(2)},
		{Name: "Kelpie", CatalogueNumber: 12, Epoch: day(1)}, // older, but with a name
		{Name: "SELKIE-99", CatalogueNumber: 12345, Epoch: day(3)},
	} {
		c.Add(s)
	}
	for _, w := range []struct {
		part  string
		limit int
		want  []int // catalogue numbers
	}{
		{"kelpie", 9, []int{12, 99001, 70012, 270123}}, // whole, beginning, word, within
		{" KELPIE ", 2, []int{12, 99001}},
		{"12", 9, []int{12, 12345, 70012, 270123}},
		{"2", 9, []int{270123, 99001, 70012, 12, 12345}},
		{"99", 9, []int{99001, 12345}},
		{"t0123", 9, []int{270123}},
		{"26902b", 9, []int{270123}},
		{"902", 9, []int{270123}},
		{"", 2, []int{70012, 270123}},
		{"kelpie", 0, nil},
		{"kelpie", -1, nil},
		{"nobody", 9, nil},
		{"\t", 9, []int{70012, 270123, 99001, 12, 12345}}, // nothing, cleaned
		{"12\t", 9, []int{12, 12345, 70012, 270123}},
	} {
		var got []int
		for _, s := range c.Match(w.part, w.limit) {
			got = append(got, s.CatalogueNumber)
		}
		if len(got) != len(w.want) {
			t.Errorf("Match(%q, %d) = %v, want %v", w.part, w.limit, got, w.want)
			continue
		}
		for i := range got {
			if got[i] != w.want[i] {
				t.Errorf("Match(%q, %d) = %v, want %v", w.part, w.limit, got, w.want)
				break
			}
		}
	}
	if got := c.Match("kelpie", 1)[0]; !got.Epoch.Equal(day(2)) {
		t.Errorf("found the set of %v, want the newest", got.Epoch)
	}
	var empty Catalogue
	if empty.Len() != 0 || len(empty.Match("a", 5)) != 0 || len(empty.Match("", 5)) != 0 {
		t.Error("the empty catalogue is not empty")
	}
}

// gather makes a catalogue while a file is read.
func gather(sets iter.Seq2[Set, error]) (*Catalogue, error) {
	var c Catalogue
	for s, err := range sets {
		if err != nil {
			return &c, err
		}
		c.Add(s)
	}
	return &c, nil
}

func TestCatalogueWhileReading(t *testing.T) {
	text := readFile(t, "omm/invented_all.tle")
	c, err := gather(Scan(strings.NewReader(text+text+line1), "f"))
	var all *Errors
	if c.Len() != 3 || !errors.As(err, &all) || len(all.All) != 1 {
		t.Errorf("%d objects and error %v, want 3 and a line 1 without its line 2", c.Len(), err)
	}
	if got, err := Choose(c.Sets(), "invented-2"); err != nil || got.CatalogueNumber != 270123 {
		t.Errorf("chose %+v, %v", got, err)
	}
}

// endless gives the same text again and again.
type endless struct {
	text string
	at   int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.text[e.at:])
	e.at = (e.at + n) % len(e.text)
	return n, nil
}

// Scan hands sets on as they come, and leaving the loop ends the reading.
func TestScanStops(t *testing.T) {
	set := mustRead(t, line1+"\n"+line2)
	xml, json := written(t, XML, set), written(t, JSON, set)
	message := xml[strings.Index(xml, "<omm"):strings.Index(xml, "</ndm>")]
	for format, c := range map[Format]struct{ head, text string }{
		TLE:  {"", line1 + "\n" + line2 + "\n"},
		KVN:  {"", written(t, KVN, set)},
		CSV:  {"", written(t, CSV, set)}, // the first line again is a fault only
		XML:  {"<ndm>", message},
		JSON: {"[", strings.Trim(json, "[]\n") + ","},
	} {
		checkStops(t, format, Scan(io.MultiReader(strings.NewReader(c.head), &endless{text: c.text}), "f"))
	}
}

func checkStops(t *testing.T, format Format, sets iter.Seq2[Set, error]) {
	t.Helper()
	n := 0
	for s, err := range sets {
		if err != nil || s.CatalogueNumber != 99001 {
			t.Fatalf("%s: %+v, %v", format, s, err)
		}
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("%s: %d sets", format, n)
	}
}

package store

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"foreaim/track/elements"
)

// A damaged line is told with file and line; all else is usable, and more can
// be imported.
func TestDamagedLine(t *testing.T) {
	s := open(t, t.TempDir())
	mustImport(t, s, invented(70001, 0), invented(70101, 0), invented(70201, 0), invented(70002, 0))
	path := spoil(t, s, "sets-01.txt", func(text string) string {
		return strings.Replace(text, `"OBJECT 70101"`, `"OBJECT 70191"`, 1)
	})
	newest, err := s.Newest()
	if d := damageOf(t, err); d.File != path || d.Line != 3 || d.Lines != 1 || d.Hint() == "" || !strings.HasPrefix(d.Error(), path+":3: ") {
		t.Errorf("damage %+v (%v), want line 3 of %s", d, d, path)
	}
	if len(newest) != 3 {
		t.Errorf("%d sets beside the damage, want 3", len(newest))
	}
	if got := mustImport(t, s, invented(70001, 0), invented(70101, 0)); got != (Counts{New: 1, Known: 1}) {
		t.Errorf("import after damage %+v, want 1 new and 1 known", got)
	}
	if newest, _ = s.Newest(); len(newest) != 4 {
		t.Errorf("%d sets after the import, want 4", len(newest))
	}
	if n, err := s.Remove(t.Context(), Number(70201)); n != 1 || err != nil {
		t.Errorf("removal beside damage: %d, %v", n, err)
	}
	if _, err := s.History(Number(70001)); damageOf(t, err).Line != 3 {
		t.Errorf("%v, want the damage of line 3 still told", err)
	}
}

// A file that is no file of the store is told, left as it is, and costs only
// the objects in it.
func TestForeignFile(t *testing.T) {
	for _, foreign := range []string{"", "hello", strings.Replace(header, "1", "2", 1), "\x00\x00\x00\x00"} {
		s := open(t, t.TempDir())
		mustImport(t, s, invented(70001, 0), invented(70002, 0))
		path := spoil(t, s, "sets-01.txt", func(string) string { return foreign })
		newest, err := s.Newest()
		if d := damageOf(t, err); d.File != path || d.Line != 0 || len(newest) != 1 {
			t.Errorf("%q: damage %+v and %d sets, want the whole of %s and 1 set", foreign, d, len(newest), path)
		}
		counts, err := s.Import(t.Context(), []elements.Set{invented(70001, 1), invented(70002, 1)})
		if damageOf(t, err).File != path || counts != (Counts{New: 1}) {
			t.Errorf("%q: import %+v, %v, want 1 new and the damage", foreign, counts, err)
		}
		if text, err := os.ReadFile(path); err != nil || string(text) != foreign {
			t.Errorf("%q has become %q, %v", foreign, text, err)
		}
	}
}

// Wherever the last write was cut off, what came before is there, nothing is
// called damaged, and the next import mends the file.
func TestCutOffAnywhere(t *testing.T) {
	s := open(t, t.TempDir())
	mustImport(t, s, invented(70001, 0))
	before, err := os.ReadFile(s.path("sets-01.txt"))
	if err != nil {
		t.Fatal(err)
	}
	mustImport(t, s, invented(70001, 1))
	whole, err := os.ReadFile(s.path("sets-01.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for cut := len(before); cut < len(whole); cut += 3 {
		spoil(t, s, "sets-01.txt", func(string) string { return string(whole[:cut]) })
		if got := mustHistory(t, s, Number(70001)); len(got) != 1 {
			t.Fatalf("cut to %d of %d bytes: %d sets, want 1", cut, len(whole), len(got))
		}
		mustImport(t, s, invented(70001, 1))
		if mended, err := os.ReadFile(s.path("sets-01.txt")); err != nil || string(mended) != string(whole) {
			t.Fatalf("cut to %d of %d bytes: mended to %q, %v", cut, len(whole), mended, err)
		}
	}
}

// No byte of a line can change without being noticed, and no text at all makes
// a reader fall over: what is called a line is one that would be written so.
func FuzzParseLine(f *testing.F) {
	l := mustLine(f, invented(70001, 3))
	f.Add(strings.TrimSuffix(l.text(), "\n"))
	rest := "70001 2026-11-20T00:00:00 tle {}"
	f.Add(fmt.Sprintf("%08x %s", sum(rest), rest))
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := parseLine(text)
		if err != nil {
			return
		}
		again, err := parseLine(strings.TrimSuffix(l.text(), "\n"))
		if err != nil || again != l {
			t.Errorf("%q is read as %+v, and that as %+v, %v", text, l, again, err)
		}
	})
}

func TestChangedByteIsNoticed(t *testing.T) {
	l := mustLine(t, invented(70001, 3))
	text := []byte(strings.TrimSuffix(l.text(), "\n"))
	for i := range text {
		text[i] ^= 1
		if got, err := parseLine(string(text)); err == nil {
			t.Errorf("byte %d changed and still read as %+v", i, got)
		}
		text[i] ^= 1
	}
}

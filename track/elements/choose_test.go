package elements

import (
	"errors"
	"testing"
	"time"
)

// Choose is our own design: these are the rules of its doc comment.
func TestChoose(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, 11, n, 0, 0, 0, 0, time.UTC) }
	sets := []Set{
		{Name: "KELPIE", CatalogueNumber: 99001, Designator: "2026-901A", Epoch: day(2)},
		{Name: "", CatalogueNumber: 99001, Epoch: day(3)},
		{Name: "KELPIE", CatalogueNumber: 99001, Epoch: day(1)},
		{Name: "KELPIE 2", CatalogueNumber: 270123, Designator: "2026-902B", Epoch: day(1)},
		{Name: "SELKIE", Designator: "2026-903C", Epoch: day(1)},
		{Name: "Selkie", Designator: "2026-903C", Epoch: day(2)},
		{Name: "NIX 99001", CatalogueNumber: 7, Epoch: day(1)},
		{Epoch: day(1), Line: 1},
		{Epoch: day(2), Line: 2},
	}
	if got := len(Newest(sets)); got != 6 {
		t.Errorf("%d objects, want 6", got)
	}
	for _, c := range []struct {
		sat  string
		want Set
	}{
		{"99001", sets[1]}, // the number wins over the part of a name, the newest over the older
		{" 00007 ", sets[6]},
		{"T0123", sets[3]},
		{"t0123", sets[3]},
		{"kelpie", sets[1]}, // the whole name wins over a part of another
		{"PIE 2", sets[3]},
		{"selk", sets[5]},
		{"2026-903c", sets[5]},
		{"26903C", sets[5]},
		{"902b", sets[3]},
		{"nix", sets[6]},
	} {
		if got, err := Choose(sets, c.sat); err != nil || got != c.want {
			t.Errorf("Choose(%q) = %+v, %v, want %+v", c.sat, got, err, c.want)
		}
	}
	if got, err := Choose(sets[:3], ""); err != nil || got != sets[1] {
		t.Errorf("the only object: %+v, %v, want %+v", got, err, sets[1])
	}
	for _, c := range []struct {
		sets      []Set
		sat, want string
	}{
		{nil, "KELPIE", "there are no elements to choose from"},
		{sets[2:5], "", "there are elements of 3 objects, and none was named: KELPIE (99001), KELPIE 2 (270123), SELKIE"},
		{sets[:5], "elp", `"elp" fits 2 objects: catalogue number 99001, KELPIE 2 (270123)`},
		{sets[:3], "nobody\x1b", `no object fits "nobody"; the only one is catalogue number 99001`},
		{sets, "12345", `none of 6 objects fits "12345"; some are catalogue number 99001, KELPIE 2 (270123), Selkie, NIX 99001 (7), an object without name and number, ...`},
	} {
		_, err := Choose(c.sets, c.sat)
		var choice *ChoiceError
		if !errors.As(err, &choice) || choice.Hint() == "" || err.Error() != c.want {
			t.Errorf("Choose(%q): error %v, want %s", c.sat, err, c.want)
		}
	}
}

// Same rules; and what is one object to one function is one to all of them.
func TestSameObject(t *testing.T) {
	for _, c := range []struct {
		a, b Set
		want bool
	}{
		{Set{CatalogueNumber: 7, Name: "NIX", Designator: "2026-901A"}, Set{CatalogueNumber: 7}, true},
		{Set{CatalogueNumber: 7, Name: "NIX"}, Set{CatalogueNumber: 8, Name: "NIX"}, false},
		{Set{CatalogueNumber: 7, Name: "NIX"}, Set{Name: "NIX"}, false},
		{Set{Name: "NIX", Designator: "2026-901a", Line: 1}, Set{Name: "Nix", Designator: "2026-901A", Line: 4}, true},
		{Set{Name: "NIX", Designator: "2026-901A"}, Set{Name: "NIX", Designator: "2026-901B"}, false},
		{Set{Name: "NIX"}, Set{Designator: "NIX"}, false},
		{Set{File: "a", Line: 1}, Set{File: "a", Line: 4}, false},
		{Set{File: "a", Line: 1}, Set{File: "a", Line: 1}, true},
	} {
		if got, objects := c.a.SameObject(c.b), len(Newest([]Set{c.a, c.b})); got != c.want || c.b.SameObject(c.a) != c.want || (objects == 1) != c.want {
			t.Errorf("%+v and %+v: %t, of %d objects, want %t", c.a, c.b, got, objects, c.want)
		}
	}
}

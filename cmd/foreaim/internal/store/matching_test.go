package store

import (
	"fmt"
	"strings"
	"testing"
)

// Matching finds what reading everything finds.
func TestMatching(t *testing.T) {
	s := open(t, t.TempDir())
	for number := 1; number <= 320; number++ {
		for n := range 3 {
			set := invented(number, n)
			if number == 207 && n == 2 {
				set.Name = "" // its newest set has lost the name
			}
			if number == 208 {
				set.Name, set.Designator = `A "quoted" \ name Ü`, "2026-902C"
			}
			mustImport(t, s, set)
		}
	}
	for _, c := range []struct {
		part string
		want string
	}{
		{"OBJECT 207", "207:0 207:1 207:2"},
		{`"quoted" \ name Ü`, "208:0 208:1 208:2"},
		{"2026-902", "208:0 208:1 208:2"},
		{"OBJECT 31", "31:0 31:1 31:2 310:0 310:1 310:2 311:0 311:1 311:2 312:0 312:1 312:2 313:0 313:1 313:2 " +
			"314:0 314:1 314:2 315:0 315:1 315:2 316:0 316:1 316:2 317:0 317:1 317:2 318:0 318:1 318:2 319:0 319:1 319:2"},
		{"nothing", ""},
	} {
		sets, err := s.Matching(func(name, designator string) bool {
			return strings.Contains(name, c.part) || strings.Contains(designator, c.part)
		})
		if err != nil {
			t.Error(err)
		}
		var got []string
		for _, set := range sets {
			got = append(got, fmt.Sprintf("%d:%.0f", set.CatalogueNumber, set.Epoch.Sub(epoch).Hours()))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q: got %v, want %s", c.part, got, c.want)
		}
	}
}

func BenchmarkMatching30000OfTen(b *testing.B) {
	s := full(b)
	for b.Loop() {
		sets, err := s.Matching(func(name, _ string) bool { return name == "OBJECT 20017" })
		if err != nil || len(sets) != 10 {
			b.Fatalf("%d sets, want 10; %v", len(sets), err)
		}
	}
}

package store

import (
	"testing"

	"foreaim/track/elements"
)

const catalogue = 30_000 // about as many objects as the public catalogue has

func manySets(hour int) []elements.Set {
	sets := make([]elements.Set, catalogue)
	for i := range sets {
		sets[i] = invented(i+1, hour)
	}
	return sets
}

func BenchmarkImport30000Empty(b *testing.B) {
	sets := manySets(0)
	for b.Loop() {
		mustImport(b, open(b, b.TempDir()), sets...)
	}
}

// full is a store with ten sets of each object.
func full(b *testing.B) *Store {
	s := open(b, b.TempDir())
	for hour := range 10 {
		mustImport(b, s, manySets(hour)...)
	}
	return s
}

func BenchmarkImport30000KnownOfTen(b *testing.B) {
	s, sets := full(b), manySets(3)
	for b.Loop() {
		mustImport(b, s, sets...)
	}
}

func BenchmarkImportOne(b *testing.B) {
	s, n := full(b), 10
	for b.Loop() {
		mustImport(b, s, invented(17, n))
		n++
	}
}

func BenchmarkNewest30000OfTen(b *testing.B) {
	s := full(b)
	b.ReportAllocs()
	for b.Loop() {
		if sets := mustNewest(b, s); len(sets) != catalogue {
			b.Fatalf("%d sets, want %d", len(sets), catalogue)
		}
	}
}

func BenchmarkHistory(b *testing.B) {
	s := full(b)
	for b.Loop() {
		if sets := mustHistory(b, s, Number(20_017)); len(sets) != 10 {
			b.Fatalf("%d sets, want 10", len(sets))
		}
	}
}

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/track/elements"
)

var epoch = time.Date(2026, 11, 20, 6, 30, 0, 123_456_000, time.UTC)

// invented is a set of an object that does not exist, n hours after epoch.
func invented(number, n int) elements.Set {
	return elements.Set{
		Name: fmt.Sprintf("OBJECT %d", number), CatalogueNumber: number, Designator: "2026-901A", Classification: 'U',
		Epoch: epoch.Add(time.Duration(n) * time.Hour), MeanMotionRevPerDay: 15.20000001, Eccentricity: 0.0012345, InclinationDeg: 97.5,
		NodeDeg: 359.9999, PerigeeDeg: 0.1, AnomalyDeg: 1.0 / 3, BStar: 1.23456789e-5, MeanMotionDot: 2e-5, MeanMotionDDot: 3e-14,
		ElementNumber: n % 1000, RevolutionNumber: n, Format: elements.TLE,
	}
}

func open(t testing.TB, folder string) *Store {
	t.Helper()
	s, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mustImport(t testing.TB, s *Store, sets ...elements.Set) Counts {
	t.Helper()
	counts, err := s.Import(t.Context(), sets)
	if err != nil {
		t.Fatal(err)
	}
	return counts
}

func mustHistory(t testing.TB, s *Store, object Object) []elements.Set {
	t.Helper()
	sets, err := s.History(object)
	if err != nil {
		t.Fatal(err)
	}
	return sets
}

func mustNewest(t testing.TB, s *Store) []elements.Set {
	t.Helper()
	sets, err := s.Newest()
	if err != nil {
		t.Fatal(err)
	}
	return sets
}

func mustLine(t testing.TB, set elements.Set) line {
	t.Helper()
	lines, err := newLines([]elements.Set{set})
	if err != nil {
		t.Fatal(err)
	}
	return lines[0]
}

// spoil changes the text of a file of the store.
func spoil(t *testing.T, s *Store, name string, change func(string) string) string {
	t.Helper()
	path := filepath.Join(s.folder, name)
	text, err := os.ReadFile(path)
	if err == nil {
		err = os.WriteFile(path, []byte(change(string(text))), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func damageOf(t *testing.T, err error) *Damage {
	t.Helper()
	var d *Damage
	if !errors.As(err, &d) {
		t.Fatalf("error %v, want a *Damage", err)
	}
	return d
}

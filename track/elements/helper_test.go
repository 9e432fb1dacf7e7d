package elements

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const orbits = "../../testdata/orbits"

func readFile(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(orbits, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// rows reads a CSV file whose lines with # are comments; the header is left out.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(readFile(t, name)))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	return all[1:]
}

func mustRead(t testing.TB, text string) []Set {
	t.Helper()
	sets, err := Read(strings.NewReader(text), "file")
	if err != nil {
		t.Fatal(err)
	}
	return sets
}

// faults returns the single faults of an error of Read.
func faults(t testing.TB, err error) []*Error {
	t.Helper()
	if err == nil {
		return nil
	}
	var all *Errors
	if !errors.As(err, &all) {
		t.Fatalf("error is a %T, want *Errors", err)
	}
	return all.All
}

// bare returns the set without where and how it was read.
func (s Set) bare() Set {
	s.Format, s.File, s.Line = "", "", 0
	return s
}

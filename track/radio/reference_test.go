package radio

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// reference reads a table of testdata/radio: a map a row.
func reference(t *testing.T, file string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/radio/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %v, %d lines", file, err, len(all))
	}
	rows := make([]map[string]string, len(all)-1)
	for i, cells := range all[1:] {
		rows[i] = map[string]string{}
		for j, name := range all[0] {
			rows[i][name] = cells[j]
		}
	}
	return rows
}

// number reads a cell, or the number that a text ends with.
func number(t *testing.T, text string) float64 {
	t.Helper()
	fields := strings.Fields(text)
	if len(fields) == 0 {
		t.Fatal("an empty cell")
	}
	v, err := strconv.ParseFloat(fields[len(fields)-1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near fails when two values differ by more than a tolerance.
func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.5f, want %.5f ± %g", what, got, want, within)
	}
}

// spans does so for both ends of a range.
func spans(t testing.TB, what string, got Range, low, high, within float64) {
	t.Helper()
	near(t, what+", low end", got.Low, low, within)
	near(t, what+", high end", got.High, high, within)
}

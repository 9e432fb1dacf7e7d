// Package testtable is for tests with tables: it reads those of published values,
// and tells what is to be asked of every reader of those that people write.
package testtable

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

// Rows reads a CSV file: a map a row, by the names in its first line. Lines that
// begin with # tell its source. A table without rows fails the test.
func Rows(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %v, %d lines", path, err, len(all))
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

// Number reads a cell.
func Number(t testing.TB, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Package csvfile reads the tables that people write: CSV (RFC 4180) whose first
// line names the columns, in any order. Lines that begin with # and empty ones
// are skipped, as is a byte order mark. What is wrong is told with its place, and
// nothing that can't be shown gets through.
package csvfile

import (
	"fmt"
	"slices"
	"strings"
)

// Format is what a kind of file may hold.
type Format struct {
	What     string   // of what it is a file, for messages: "a skyline"
	Needs    []string // the columns that must be there; of "a|b" exactly one
	May      []string // those that may
	MaxBytes int64    // a larger file is refused
}

// names returns the names of all columns.
func (f Format) names() []string {
	var all []string
	for _, need := range f.Needs {
		all = append(all, strings.Split(need, "|")...)
	}
	return append(all, f.May...)
}

// advice says which columns there are.
func (f Format) advice() string {
	text := "the columns are " + strings.ReplaceAll(strings.Join(f.Needs, ", "), "|", " or ")
	if len(f.May) > 0 {
		text += "; there may be " + strings.Join(f.May, ", ")
	}
	return text
}

// check returns what is missing in a line of column names, or too much.
func (f Format) check(names []string) string {
	for _, need := range f.Needs {
		choices := strings.Split(need, "|")
		var there []string
		for _, c := range choices {
			if slices.Contains(names, c) {
				there = append(there, c)
			}
		}
		switch {
		case len(there) == 0:
			return fmt.Sprintf(`column "%s" is missing`, strings.Join(choices, `" or "`))
		case len(there) > 1:
			return fmt.Sprintf(`both "%s" and "%s" are there, want one`, there[0], there[1])
		}
	}
	return ""
}

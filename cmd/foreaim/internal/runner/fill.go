package runner

import (
	"maps"
	"slices"
	"strings"
)

// Uses tells whether an argument holds the placeholder {name}. The program's
// own name, the first, is never filled in.
func Uses(args []string, name string) bool {
	for i, a := range args {
		if i > 0 && strings.Contains(a, "{"+name+"}") {
			return true
		}
	}
	return false
}

// Fill puts values in the place of {name} in the arguments. A value stays
// within its argument, whatever it holds; it is cleaned of control characters,
// not filled in again, and where an argument would begin with a value's "-" it
// gets a blank before it, so that no value is taken for an option.
func Fill(args []string, values map[string]string) []string {
	var pairs []string
	for _, name := range slices.Sorted(maps.Keys(values)) {
		pairs = append(pairs, "{"+name+"}", oneLine(values[name]))
	}
	replace := strings.NewReplacer(pairs...)
	filled := slices.Clone(args)
	for i, a := range args {
		if i == 0 {
			continue
		}
		filled[i] = replace.Replace(a)
		if strings.HasPrefix(filled[i], "-") && !strings.HasPrefix(a, "-") {
			filled[i] = " " + filled[i]
		}
	}
	return filled
}

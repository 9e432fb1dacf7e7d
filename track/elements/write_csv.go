package elements

import (
	"bufio"
	"cmp"
	"io"
	"maps"
	"slices"
	"strings"
)

// WriteCSV writes the sets as OMM in comma-separated values: a line of
// keywords, then a line for each set, as the public catalogue is served. What
// only some sets have has a column too, empty for the others; several comments
// are lines of one cell. The rest is as with WriteJSON.
func WriteCSV(w io.Writer, sets []Set) error {
	columns := columnsOf(sets)
	b := bufio.NewWriter(w)
	for i, c := range columns {
		b.WriteString(separator(i) + c.name)
	}
	b.WriteByte('\n')
	err := writeAll(b, sets, func(b *bufio.Writer, _ int, fields []field) {
		cells := make(map[string]string, len(fields))
		for _, f := range fields {
			if before := cells[f.name]; f.key == comment && before != "" {
				f.value = before + "\n" + f.value
			}
			cells[f.name] = f.value
		}
		for i, c := range columns {
			b.WriteString(separator(i) + csvCell(cells[c.name]))
		}
		b.WriteByte('\n')
	})
	if err != nil {
		return err
	}
	return b.Flush()
}

// columnsOf are the keywords that any of the sets has, in the standard's order.
func columnsOf(sets []Set) []field {
	all := map[string]field{}
	for k := range (Set{}).values() {
		if served(k) {
			all[k.String()] = field{key: k, name: k.String()}
		}
	}
	var last Rest
	for _, s := range sets {
		if s.Rest == last {
			continue
		}
		last = s.Rest
		for name := range last.All() {
			k, known := keyNames[name]
			if !known {
				k = keyCount
			}
			all[name] = field{key: k, name: name}
		}
	}
	return slices.SortedFunc(maps.Values(all), func(a, b field) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.name, b.name))
	})
}

func separator(i int) string {
	if i == 0 {
		return ""
	}
	return ","
}

func csvCell(text string) string {
	if !strings.ContainsAny(text, ",\"\n") {
		return text
	}
	return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
}

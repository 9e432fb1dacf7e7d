package store

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"foreaim/track/elements"
)

// numbered is a line and where it stands.
type numbered struct {
	line
	number int
}

// batch is some lines of one file.
type batch []numbered

// sets reads the messages of the lines, all at once. File and Line of the sets
// say where in the store they are. Lines that hold no set are told by a *Damage.
func (b batch) sets(path string) ([]elements.Set, error) {
	if len(b) == 0 {
		return nil, nil
	}
	sets, err := elements.Read(b.reader(), path)
	for i := range sets {
		from := b[sets[i].Line-1] // one message a line
		sets[i].Line, sets[i].Format = from.number, from.format
	}
	var bad *elements.Errors
	if errors.As(err, &bad) {
		first := bad.All[0]
		return sets, &Damage{path, b[min(first.Line, len(b))-1].number, len(b) - len(sets), errors.New(first.What)}
	}
	return sets, err
}

// reader gives the messages as one array, each on a line of its own.
func (b batch) reader() *strings.Reader {
	var text strings.Builder
	size := 1
	for _, l := range b {
		size += len(l.omm) + 2
	}
	text.Grow(size)
	for i, l := range b {
		text.WriteString([]string{"[", ",\n"}[min(i, 1)])
		text.WriteString(l.omm)
	}
	text.WriteString("]")
	return strings.NewReader(text.String())
}

func sortByNumber(sets []elements.Set) {
	slices.SortStableFunc(sets, func(a, b elements.Set) int {
		if (a.CatalogueNumber == 0) != (b.CatalogueNumber == 0) {
			return cmp.Compare(b.CatalogueNumber, a.CatalogueNumber) // none comes last
		}
		return cmp.Compare(a.CatalogueNumber, b.CatalogueNumber)
	})
}

func sortByEpoch(sets []elements.Set) {
	slices.SortStableFunc(sets, func(a, b elements.Set) int { return a.Epoch.Compare(b.Epoch) })
}

package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
	"foreaim/track/elements"
)

// Counts says what became of the sets of an import.
type Counts struct {
	New   int // newer than all of their object, or the first of it
	Older int // kept in the history only
	Known int // there already, to the last digit
}

func (c Counts) plus(d Counts) Counts {
	return Counts{c.New + d.New, c.Older + d.Older, c.Known + d.Known}
}

// Import keeps every set that is not there yet, and returns once they are on
// the disk. Sets that can't be kept, and files that can't be written, are told
// by the error, which is joined of one for each; the other sets are kept and
// counted. It waits for other writers until ctx is done.
func (s *Store) Import(ctx context.Context, sets []elements.Set) (Counts, error) {
	byFile, faults := linesByFile(sets)
	unlock, err := s.lock(ctx)
	if err != nil {
		return Counts{}, err
	}
	defer unlock()
	var counts Counts
	for _, name := range fileNames() {
		if len(byFile[name]) == 0 {
			continue
		}
		if err := ctx.Err(); err != nil {
			faults = append(faults, err)
			break
		}
		some, err := add(s.path(name), byFile[name])
		if err != nil {
			faults = append(faults, fmt.Errorf("the elements store: %w", err))
			continue
		}
		counts = counts.plus(some)
	}
	return counts, errors.Join(append(faults, durable.SyncFolder(s.folder))...)
}

var errChanged = errors.New("it would not be read back as it is")

// linesByFile writes the sets as the lines of each file. What would not be read
// back the same is refused: the store takes nothing that it would lose.
func linesByFile(sets []elements.Set) (map[string]batch, []error) {
	lines, faults := writeLines(sets)
	back, _ := lines.sets("") // those with a fault are missing
	same := make([]bool, len(sets))
	for _, set := range back {
		same[set.Line] = content(set) == content(sets[set.Line])
	}
	byFile := map[string]batch{}
	for _, l := range lines {
		if !same[l.number] {
			faults = append(faults, refusal(sets[l.number], errChanged))
			continue
		}
		name := l.object.fileName()
		byFile[name] = append(byFile[name], l)
	}
	return byFile, faults
}

// writeLines writes the sets as lines numbered from 0 like the sets, all at once
// or, when that fails, one by one to find which of them can't be written.
func writeLines(sets []elements.Set) (batch, []error) {
	var b batch
	if lines, err := newLines(sets); err == nil {
		for i, l := range lines {
			b = append(b, numbered{l, i})
		}
		return b, nil
	}
	var faults []error
	for i, set := range sets {
		l, err := newLines([]elements.Set{set})
		if err != nil {
			faults = append(faults, refusal(set, err))
			continue
		}
		b = append(b, numbered{l[0], i})
	}
	return b, faults
}

// content drops where a set was read, and the clock's own mark in its epoch.
func content(set elements.Set) elements.Set {
	set.File, set.Line = "", 0
	set.Epoch = set.Epoch.UTC().Round(0)
	return set
}

func refusal(set elements.Set, err error) error {
	return fmt.Errorf("the elements store does not take %q, object %d: %w", set.Name, set.CatalogueNumber, err)
}

// add appends to a file the lines that it does not have.
func add(path string, lines batch) (Counts, error) {
	f, err := readFile(path)
	if err != nil {
		return Counts{}, err
	}
	kept := f.kept(lines)
	var counts Counts
	var fresh strings.Builder
	for _, l := range lines {
		switch was := kept[l.object]; {
		case was.omm[l.omm]:
			counts.Known++
			continue
		case was.newest.After(l.epoch):
			counts.Older++
		default:
			counts.New++
			was.newest = l.epoch
		}
		kept[l.object].omm[l.omm] = true
		fresh.WriteString(l.text())
	}
	switch {
	case fresh.Len() == 0:
		return counts, nil
	case int64(len(f.text)+fresh.Len()) > maxFile:
		return Counts{}, &Damage{File: path, Err: errLarge}
	case !f.found:
		return counts, durable.WriteFile(path, []byte(header+fresh.String()))
	}
	return counts, durable.Append(path, int64(len(f.text)), []byte(fresh.String()))
}

// known is what a file has of one object.
type known struct {
	newest time.Time
	omm    map[string]bool
}

// kept finds what the file has of the objects of some lines. Damaged lines
// count as not there.
func (f file) kept(lines batch) map[Object]*known {
	kept := map[Object]*known{}
	for _, l := range lines {
		kept[l.object] = &known{omm: map[string]bool{}}
	}
	f.lines(func(l line, _ int) {
		if was := kept[l.object]; was != nil {
			was.omm[l.omm] = true
			if l.epoch.After(was.newest) {
				was.newest = l.epoch
			}
		}
	})
	return kept
}

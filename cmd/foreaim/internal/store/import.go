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

var errUnreadable = errors.New("a value is out of range")

// linesByFile writes the sets as the lines of each file. What can't be read
// back the same is refused: the store takes nothing that it would lose.
func linesByFile(sets []elements.Set) (map[string]batch, []error) {
	var written batch
	var faults []error
	omm := make([]string, len(sets))
	for i, set := range sets {
		l, err := newLine(set)
		if err != nil {
			faults = append(faults, refusal(set, err))
			continue
		}
		omm[i] = l.omm
		written = append(written, numbered{l, i})
	}
	same := make([]bool, len(sets))
	back, _ := written.sets("") // those with a fault are missing
	for _, set := range back {
		l, err := newLine(set)
		same[set.Line] = err == nil && l.omm == omm[set.Line]
	}
	byFile := map[string]batch{}
	for _, l := range written {
		if !same[l.number] {
			faults = append(faults, refusal(sets[l.number], errUnreadable))
			continue
		}
		name := l.object.fileName()
		byFile[name] = append(byFile[name], l)
	}
	return byFile, faults
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

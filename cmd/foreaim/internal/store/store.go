package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"foreaim/cmd/foreaim/internal/durable"
	"foreaim/track/elements"
)

// Store is a local store of element sets. Several may be open on one folder, in
// several processes too.
type Store struct{ folder string }

// Open opens the store in a folder, which it makes if need be.
func Open(folder string) (*Store, error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, fmt.Errorf("the elements store: %w", err)
	}
	return &Store{folder}, nil
}

// Folder is where the store's files are.
func (s *Store) Folder() string { return s.folder }

func (s *Store) path(name string) string { return filepath.Join(s.folder, name) }

// lock keeps other writers out until unlock is called.
func (s *Store) lock(ctx context.Context) (unlock func(), err error) {
	return durable.Lock(ctx, s.path("lock"))
}

// Newest returns the newest set of every object, in the order of their
// catalogue numbers, then those without a number. Of equal epochs it is the one
// that was imported last, which may have got a name meanwhile. Sets that could
// be read are returned beside the error, which then joins a *Damage for each
// damaged file.
func (s *Store) Newest() ([]elements.Set, error) {
	var all []elements.Set
	var faults []error
	for _, name := range fileNames() {
		f, err := readFile(s.path(name))
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if !f.found {
			continue
		}
		var newest batch
		at := map[Object]int{}
		err = f.lines(func(l line, number int) {
			i, known := at[l.object]
			switch {
			case !known:
				at[l.object] = len(newest)
				newest = append(newest, numbered{l, number})
			case !l.epoch.Before(newest[i].epoch):
				newest[i] = numbered{l, number}
			}
		})
		sets, badSets := newest.sets(f.path)
		all = append(all, sets...)
		faults = append(faults, err, badSets)
	}
	sortByNumber(all)
	return all, errors.Join(faults...)
}

// History returns every set of an object, the oldest epoch first. Sets that
// could be read are returned beside an error, as by Newest.
func (s *Store) History(object Object) ([]elements.Set, error) {
	f, err := readFile(s.path(object.fileName()))
	if err != nil {
		return nil, err
	}
	var own batch
	err = f.lines(func(l line, number int) {
		if l.object == object {
			own = append(own, numbered{l, number})
		}
	})
	sets, badSets := own.sets(f.path)
	sortByEpoch(sets)
	return sets, errors.Join(err, badSets)
}

// Remove takes every set of an object out and returns how many there were.
// Damaged lines of the same file stay as they are.
func (s *Store) Remove(ctx context.Context, object Object) (int, error) {
	unlock, err := s.lock(ctx)
	if err != nil {
		return 0, err
	}
	defer unlock()
	f, err := readFile(s.path(object.fileName()))
	if err != nil || !f.found {
		return 0, err
	}
	text, removed := f.without(object)
	if removed == 0 {
		return 0, nil
	}
	if err := durable.WriteFile(f.path, []byte(text)); err != nil {
		return 0, fmt.Errorf("the elements store: %w", err)
	}
	return removed, durable.SyncFolder(s.folder)
}

package main

import (
	"cmp"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"foreaim/cmd/foreaim/internal/store"
	"foreaim/track/elements"
)

// library is where a command finds elements: in the files that it was given, or
// else in the store, which keeps every set of an object.
type library struct {
	sys    system
	store  *store.Store   // nil where files were given
	files  []elements.Set // all sets of the files
	faults []error        // what could not be read; told already
}

// openLibrary opens the files and folders that are given, or else the store.
// Faults that leave other sets to work with are warned of.
func (sys system) openLibrary(paths []string) (*library, error) {
	l := &library{sys: sys}
	if len(paths) > 0 {
		files, err := elementFiles(paths)
		if err != nil {
			return nil, err
		}
		if l.files, l.faults = readElements(files); len(l.files) == 0 {
			return nil, errors.Join(l.faults...)
		}
		for _, fault := range l.faults {
			sys.say("warning", fault.Error())
		}
		return l, nil
	}
	if !exists(sys.storeFolder()) {
		return nil, noElements()
	}
	var err error
	l.store, err = sys.openStore()
	return l, err
}

// storeFolder is where the store is; it may not exist.
func (sys system) storeFolder() string { return filepath.Join(sys.dataFolder, "elements") }

func (sys system) openStore() (*store.Store, error) {
	s, err := store.Open(sys.storeFolder())
	if err != nil {
		return nil, storeFailed(err)
	}
	return s, nil
}

// storeFailed is what the store can't do, with the way out where somebody may not
// write there.
func storeFailed(err error) error {
	hint := ""
	if errors.Is(err, fs.ErrPermission) {
		hint = "the store is in the place for data: let yourself write there, or name another with the variable XDG_DATA_HOME"
	}
	return failed(hint, "%w", err)
}

func noElements() error {
	return wrong(`name a file with --elements FILE, or keep it: "foreaim elements import FILE" or "foreaim elements fetch URL"`,
		"there are no orbital elements yet")
}

// heard warns of what the store could not read, once, and passes on what it
// could.
func (l *library) heard(sets []elements.Set, err error) []elements.Set {
	if err == nil {
		return sets
	}
	for _, fault := range split(err) {
		if slices.ContainsFunc(l.faults, func(told error) bool { return told.Error() == fault.Error() }) {
			continue
		}
		l.faults = append(l.faults, fault)
		l.sys.say("warning", fault.Error())
		l.sys.sayHint(fault)
	}
	return sets
}

// newest returns the newest set of every object.
func (l *library) newest() ([]elements.Set, error) {
	if l.store == nil {
		return elements.Newest(l.files), nil
	}
	sets := l.heard(l.store.Newest())
	if len(sets) == 0 {
		return nil, errors.Join(append(l.faults, noElements())...)
	}
	return sets, nil
}

// find returns the newest set of the one object that sat means, see
// elements.Choose, and whether there is one.
func (l *library) find(sat string) (elements.Set, bool) {
	set, err := elements.Choose(l.candidates(sat), sat)
	return set, err == nil
}

// choose is find with an error that says what there is instead.
func (l *library) choose(sat string) (elements.Set, error) {
	sets := l.candidates(sat)
	if len(sets) == 0 {
		var err error
		if sets, err = l.newest(); err != nil {
			return elements.Set{}, err
		}
	}
	set, err := elements.Choose(sets, sat)
	if err != nil {
		return set, notChosen(err, l.faults)
	}
	return set, nil
}

// candidates returns the sets that sat may mean, without reading those of 30,000
// other objects of the store; empty where it may be any of them.
func (l *library) candidates(sat string) []elements.Set {
	if l.store == nil {
		return l.files
	}
	sat = plain(sat)
	if sat == "" {
		return nil
	}
	if number := catalogueNumber(sat); number > 0 {
		if sets := l.heard(l.store.History(store.Number(number))); len(sets) > 0 {
			slices.Reverse(sets) // of equal epochs the one that came last is chosen
			return sets
		}
	}
	part := strings.ToLower(sat)
	return l.heard(l.store.Matching(func(name, designator string) bool {
		designator = strings.ToLower(designator)
		return strings.Contains(strings.ToLower(name), part) || strings.Contains(designator, part) ||
			strings.Contains(strings.ReplaceAll(designator, "-", ""), part)
	}))
}

// catalogueNumber reads a text as a number, also in the five characters of a
// TLE; 0 when it is none.
func catalogueNumber(text string) int {
	if n, err := strconv.Atoi(text); err == nil {
		return max(n, 0)
	}
	if n, err := elements.ParseAlpha5(strings.ToUpper(text)); err == nil {
		return n
	}
	return 0
}

// history returns every set there is of a set's object.
func (l *library) history(set elements.Set) []elements.Set {
	if l.store != nil {
		return l.heard(l.store.History(store.ObjectOf(set)))
	}
	var own []elements.Set
	for _, s := range l.files {
		if s.SameObject(set) {
			own = append(own, s)
		}
	}
	slices.SortStableFunc(own, func(a, b elements.Set) int { return a.Epoch.Compare(b.Epoch) })
	return own
}

// notChosen adds what else may be the reason why an object isn't there.
func notChosen(err error, faults []error) error {
	hint := cmp.Or(hintOf(err), `"foreaim elements list" shows the objects of the store or, with --elements, of files`)
	if len(faults) > 0 {
		return wrong(hint, "%w; it may be in what could not be read, see the warnings", err)
	}
	return wrong(hint, "%w", err)
}

package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"foreaim/track/elements"
)

// maxFaults is how many faults of one element file are told.
const maxFaults = 5

// elementFiles are the files to read: those of the command line or else those
// in the folder for data. Of a folder that is every plain file in it, whatever
// its name; kinds are found from the content.
func (sys system) elementFiles(paths []string) ([]string, error) {
	const hint = "name a file or folder with --elements PATH"
	usual := filepath.Join(sys.dataFolder, "elements")
	if len(paths) == 0 {
		if _, err := os.Stat(usual); err != nil {
			return nil, wrong(hint+", or put element files into "+usual, "there are no orbital elements")
		}
		paths = []string{usual}
	}
	var files []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return nil, wrong(hint, "%w", err)
		}
		if !info.IsDir() {
			files = append(files, path)
			continue
		}
		inside, err := plainFiles(path)
		if err != nil {
			return nil, wrong(hint, "%w", err)
		}
		if len(inside) == 0 {
			return nil, wrong(hint, "%s: no element files in this folder", path)
		}
		files = append(files, inside...)
	}
	return files, nil
}

func plainFiles(folder string) (files []string, err error) {
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		path := filepath.Join(folder, e.Name())
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			files = append(files, path)
		}
	}
	return files, err
}

// readElements reads all sets of all files, and returns the faults beside them:
// one bad file or set doesn't hide the good ones.
func readElements(files []string) (sets []elements.Set, faults []error) {
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			faults = append(faults, wrong("", "%w", err))
			continue
		}
		some, err := elements.Read(f, file)
		f.Close()
		sets = append(sets, some...)
		faults = append(faults, faultsOf(err)...)
	}
	return sets, faults
}

// faultsOf takes a file's faults apart; of many it keeps the first few.
func faultsOf(err error) []error {
	var all *elements.Errors
	switch {
	case err == nil:
		return nil
	case !errors.As(err, &all):
		return []error{&problem{statusWrong, err, ""}}
	}
	var faults []error
	for _, e := range all.All[:min(len(all.All), maxFaults)] {
		faults = append(faults, &problem{statusWrong, e, e.Hint()})
	}
	if more := len(all.All) + all.More - len(faults); more > 0 {
		faults = append(faults, wrong("", "%s: and %d more faults", all.All[0].File, more))
	}
	return faults
}

// chooseSets chooses the sets that a command is about. Without names it is the
// only object of the files or the only one of the configuration.
func (sys system) chooseSets(o *options, c config, names []string) ([]elements.Set, error) {
	sets, faults, err := sys.loadSets(o)
	if err != nil {
		return nil, err
	}
	return c.choose(sets, faults, names)
}

// loadSets reads the sets of all files. Faults that leave other sets to work
// with are warned of and returned.
func (sys system) loadSets(o *options) (sets []elements.Set, faults []error, err error) {
	files, err := sys.elementFiles(o.elements)
	if err != nil {
		return nil, nil, err
	}
	sets, faults = readElements(files)
	if len(sets) == 0 {
		return nil, nil, errors.Join(faults...)
	}
	for _, fault := range faults {
		sys.say("warning", fault.Error())
	}
	return sets, faults, nil
}

// choose chooses sets by name; without names the only one there is.
func (c config) choose(sets []elements.Set, faults []error, names []string) ([]elements.Set, error) {
	if len(names) == 0 {
		names = []string{c.onlySatellite()}
	}
	var chosen []elements.Set
	for _, name := range names {
		set, err := elements.Choose(sets, name)
		if err != nil {
			return nil, notChosen(err, faults)
		}
		chosen = append(chosen, set)
	}
	return chosen, nil
}

// notChosen adds what else may be the reason why an object isn't there.
func notChosen(err error, faults []error) error {
	hint := `"foreaim elements list" shows the objects of the files`
	var h interface{ Hint() string }
	if errors.As(err, &h) && h.Hint() != "" {
		hint = h.Hint()
	}
	if len(faults) > 0 {
		return wrong(hint, "%w; it may be in what could not be read, see the warnings", err)
	}
	return wrong(hint, "%w", err)
}

// onlySatellite is what to look for when the command line names nothing: the
// configuration's satellite, if it has exactly one.
func (c config) onlySatellite() string {
	if len(c.satellites) != 1 {
		return ""
	}
	return c.satellites[0].key()
}

// key is what an entry's object is looked for by.
func (s satelliteConfig) key() string {
	if s.catalogueNumber != 0 {
		return fmt.Sprint(s.catalogueNumber)
	}
	return s.name
}

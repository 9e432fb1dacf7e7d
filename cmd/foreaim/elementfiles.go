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

// elementFiles are the files to read of files and folders. Of a folder that is
// every plain file in it, whatever its name; kinds are found from the content.
func elementFiles(paths []string) ([]string, error) {
	const hint = "name a file or folder of elements"
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
		some, bad := readElementFile(file)
		sets = append(sets, some...)
		faults = append(faults, bad...)
	}
	return sets, faults
}

func readElementFile(file string) (sets []elements.Set, faults []error) {
	f, err := openFile(file, "")
	if err != nil {
		return nil, []error{err}
	}
	defer f.Close()
	sets, err = elements.Read(f, file)
	return sets, faultsOf(err)
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

// chooseAll chooses an object for each name; without names it is the only
// object there is, or the only one of the configuration.
func (c config) chooseAll(l *library, names []string) ([]elements.Set, error) {
	if len(names) == 0 {
		names = []string{c.onlySatellite()}
	}
	var chosen []elements.Set
	for _, name := range names {
		set, err := l.choose(name)
		if err != nil {
			return nil, err
		}
		chosen = append(chosen, set)
	}
	return chosen, nil
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

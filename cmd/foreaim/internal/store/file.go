package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

const (
	header  = "foreaim elements store, version 1\n"
	maxFile = 256 << 20 // bytes
)

var (
	errHeader = errors.New("it does not begin with " + strings.TrimSpace(header))
	errLarge  = fmt.Errorf("it is larger than %d MiB", maxFile>>20)
)

// file is one file of the store as it was read.
type file struct {
	path  string
	found bool
	text  string // without a last line that has no end
}

// readFile reads a file; one that isn't there is empty. The error may be a
// *Damage.
func readFile(path string) (file, error) {
	f := file{path: path}
	in, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return f, nil
	}
	if err != nil {
		return f, err
	}
	defer in.Close()
	var b strings.Builder
	if info, err := in.Stat(); err == nil && info.Size() <= maxFile {
		b.Grow(int(info.Size()))
	}
	n, err := io.Copy(&b, io.LimitReader(in, maxFile+1))
	switch {
	case err != nil:
		return f, err
	case n > maxFile:
		return f, &Damage{File: path, Err: errLarge}
	case !strings.HasPrefix(b.String(), header):
		return f, &Damage{File: path, Err: errHeader}
	}
	f.found = true
	f.text = b.String()[:strings.LastIndexByte(b.String(), '\n')+1]
	return f, nil
}

// lines calls each with every whole line and its number in the file, counted
// from 1. The error is a *Damage that tells of the lines that are damaged.
func (f file) lines(each func(l line, number int)) error {
	damage := Damage{File: f.path}
	rest := strings.TrimPrefix(f.text, header)
	for number := 2; rest != ""; number++ {
		var text string
		text, rest, _ = strings.Cut(rest, "\n")
		l, err := parseLine(text)
		if err == nil {
			each(l, number)
			continue
		}
		if damage.Lines++; damage.Lines == 1 {
			damage.Line, damage.Err = number, err
		}
	}
	if damage.Lines > 0 {
		return &damage
	}
	return nil
}

// without returns the file's text without the lines of an object, and how many
// these were.
func (f file) without(object Object) (text string, removed int) {
	var b strings.Builder
	for text := range strings.Lines(f.text) {
		if l, err := parseLine(strings.TrimSuffix(text, "\n")); err == nil && l.object == object {
			removed++
			continue
		}
		b.WriteString(text)
	}
	return b.String(), removed
}

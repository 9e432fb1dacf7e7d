package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// recordName names the record of an outing, which is one file in the folder for
// state: by the time at which it began, in whole seconds of UTC, and which one
// of that second it is, from 1.
type recordName struct {
	begun  time.Time
	number int
}

const (
	recordSuffix = ".jsonl"
	recordLayout = "2006-01-02T150405Z"
)

// String is the name without its suffix: 2026-03-25T093000Z, and the second one
// of that second 2026-03-25T093000Z-2.
func (n recordName) String() string {
	text := n.begun.Format(recordLayout)
	if n.number > 1 {
		text += fmt.Sprintf("-%d", n.number)
	}
	return text
}

// parseRecordName reads a file's name; false when it isn't that of a record.
func parseRecordName(file string) (recordName, bool) {
	text, isRecord := strings.CutSuffix(file, recordSuffix)
	end := min(len(recordLayout), len(text))
	begun, err := time.Parse(recordLayout, text[:end])
	n := recordName{begun, 1}
	if digits, later := strings.CutPrefix(text[end:], "-"); later {
		n.number, _ = strconv.Atoi(digits)
	}
	// One way to write it: a name with anything more or less is not ours.
	return n, isRecord && err == nil && n.String() == text
}

// after tells whether a record was begun after another.
func (n recordName) after(other recordName) bool {
	return cmp.Or(n.begun.Compare(other.begun), cmp.Compare(n.number, other.number)) > 0
}

// newestRecord finds the record in a folder that was begun last; empty where
// there is none.
func newestRecord(folder string) (path string, err error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	newest := recordName{}
	for _, e := range entries {
		if name, ok := parseRecordName(e.Name()); ok && e.Type().IsRegular() && name.after(newest) {
			newest = name
		}
	}
	if newest == (recordName{}) {
		return "", nil
	}
	return filepath.Join(folder, newest.String()+recordSuffix), nil
}

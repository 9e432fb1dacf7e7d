package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"foreaim/track/outing"
	"foreaim/tui"
)

// The record of an outing is one file in the folder for state, named after the
// time at which the outing began.
const (
	recordSuffix = ".jsonl"
	recordLayout = "2006-01-02T150405Z"
	// goOnWithin is how old the last record of an outing may be that was not
	// ended, for the next start to go on with it: a battery changed, a laptop
	// started again, not the next day.
	goOnWithin = 2 * time.Hour
)

// recordFile is the open record of an outing.
type recordFile struct {
	*outing.Recorder
	file *os.File
	path string
	name string // of the outing
	// state is what an outing that is gone on with had come to; nil when the
	// record is new.
	state *outing.State
}

// show records what happens on the screen.
func (r *recordFile) show(config *tui.Config, version string) {
	config.Record = r
	config.Resume = r.state
	config.Start = outing.StartEntry{
		Outing: outing.Text(r.name), Continued: r.state != nil,
		Program: outing.Text(version), Site: outing.Text(config.Site.Name),
	}
	config.DiskFree = func() (int64, bool) { return diskFree(r.file) }
}

// flushWithin is how long the end waits for a slow disk.
const flushWithin = 5 * time.Second

// Close writes what waits, and closes the file.
func (r *recordFile) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), flushWithin)
	defer cancel()
	return errors.Join(r.Recorder.Close(ctx), r.file.Close())
}

// openRecord opens a record in a folder: that of the outing that ended without
// an end a short while ago, or else a new one.
func openRecord(folder string, now time.Time) (*recordFile, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the record of this outing: %w", err)
	}
	if r := goOn(folder, now); r != nil {
		return r, nil
	}
	// Two programs that start in the same second get a file each.
	for n := range 100 {
		name := now.UTC().Format(recordLayout)
		if n > 0 {
			name += fmt.Sprintf("-%d", n+1)
		}
		path := filepath.Join(folder, name+recordSuffix)
		file, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err == nil && !lock(file) {
			err = errors.New("another program uses it")
		}
		if err != nil {
			return nil, fmt.Errorf("the record of this outing: %w", err)
		}
		return &recordFile{outing.NewRecorder(file, false), file, path, name, nil}, nil
	}
	return nil, fmt.Errorf("the record of this outing: %s has a hundred records of this second", folder)
}

// goOn opens the newest record if its outing was cut off; nil otherwise. A
// record that can't be read is left alone.
func goOn(folder string, now time.Time) *recordFile {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() && strings.HasSuffix(e.Name(), recordSuffix) {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil
	}
	path := filepath.Join(folder, slices.Max(names))
	file, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return nil
	}
	log, err := outing.Read(file, path)
	if err == nil && len(log.Records) > 0 {
		state := outing.Resume(log)
		if !state.Ended && now.Sub(state.Last).Abs() < goOnWithin && lock(file) {
			return &recordFile{outing.NewRecorder(file, true), file, path, state.Outing, &state}
		}
	}
	file.Close()
	return nil
}

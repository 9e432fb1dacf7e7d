package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/tui"
)

// goOnWithin is how old the last record of an outing may be that was not ended,
// for the next start to go on with it: a battery changed, a laptop started
// again, not the next day.
const goOnWithin = 2 * time.Hour

// recordFile is the open record of an outing.
type recordFile struct {
	*outing.Recorder
	file *os.File
	path string
	name string // of the outing
	// state is what an outing that is gone on with had come to; nil when the
	// record is new.
	state *outing.State
	// faults are what could not be read of the outing that is gone on with, or
	// why it isn't gone on with.
	faults []*outing.Fault
}

// show records what happens on the screen, and reviews it with settings.
func (r *recordFile) show(config *tui.Config, version string, s review.Settings) {
	config.Record = r
	config.Resume = r.state
	config.Notice = r.notice()
	config.Start = outing.StartEntry{
		Outing: outing.Text(r.name), Continued: r.state != nil,
		Program: outing.Text(version), Site: outing.Text(config.Site.Name),
	}
	config.Review = r.reviewer(s)
	config.DiskFree = func() (int64, bool) { return diskFree(r.file) }
}

// notice says in one sentence what is wrong with the record before; empty when
// nothing is, or only its last line was cut off, as a crash does.
func (r *recordFile) notice() string {
	unread := 0
	for _, f := range r.faults {
		if f.Reason != outing.Cut {
			unread++
		}
	}
	switch {
	case r.state == nil && len(r.faults) > 0:
		return "The last record can't be gone on with, this is a new one"
	case unread > 0:
		return fmt.Sprintf("Lines of its record that are not understood: %d", unread)
	}
	return ""
}

// tell prints the faults of the record before, as many as are worth reading.
func (r *recordFile) tell(sys system) {
	for _, f := range r.faults[:min(len(r.faults), maxFaults)] {
		sys.warn("%v", f)
		sys.sayHint(f)
	}
	if more := len(r.faults) - maxFaults; more > 0 {
		sys.warn("%d more lines of that record are not understood", more)
	}
}

// writtenWithin is how long a review waits for what is queued, writtenEvery how
// often it looks: who asks for one has just stood through the end of a pass.
const (
	writtenWithin = 2 * time.Second
	writtenEvery  = 20 * time.Millisecond
)

// reviewer returns what reviews the record while it is being written, as the
// command review does with the same settings. A disk that doesn't answer is not
// waited for: what is in the file counts.
func (r *recordFile) reviewer(s review.Settings) func(context.Context) (review.Review, error) {
	return func(ctx context.Context) (review.Review, error) {
		queued := func() bool { s := r.Status(); return s.Waiting > 0 || !s.Oldest.IsZero() }
		for waited := time.Duration(0); queued() && waited < writtenWithin; waited += writtenEvery {
			select {
			case <-ctx.Done():
				return review.Review{}, ctx.Err()
			case <-time.After(writtenEvery):
			}
		}
		file, err := os.Open(r.path)
		if err != nil {
			return review.Review{}, err
		}
		defer file.Close()
		log, err := outing.Read(file, r.path)
		switch {
		case len(log.Records) > 0: // they are good, whatever ended the reading
			return review.Of([]outing.Log{log}, s), nil
		case err != nil:
			return review.Review{}, err
		}
		return review.Review{}, fmt.Errorf("%s: there is nothing in it yet", r.path)
	}
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
	r, faults := goOn(folder, now)
	if r != nil {
		return r, nil
	}
	// Two programs that start in the same second get a file each.
	for n := range 100 {
		name := recordName{now.UTC().Truncate(time.Second), n + 1}.String()
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
		return &recordFile{outing.NewRecorder(file, false), file, path, name, nil, faults}, nil
	}
	return nil, fmt.Errorf("the record of this outing: %s has a hundred records of this second", folder)
}

// goOn opens the newest record if its outing was cut off a short while ago; nil
// otherwise. A record that can't be gone on with is left alone, and its faults
// are returned.
func goOn(folder string, now time.Time) (*recordFile, []*outing.Fault) {
	path, err := newestRecord(folder)
	if err != nil || path == "" {
		return nil, nil
	}
	file, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return nil, nil
	}
	log, err := outing.Read(file, path)
	state := outing.Resume(log)
	last := state.Last
	if info, err := file.Stat(); err == nil && last.IsZero() {
		last = info.ModTime()
	}
	faults := log.Faults
	if fault, ok := errors.AsType[*outing.Fault](err); ok {
		faults = append(faults, fault)
	}
	switch {
	case state.Ended || now.Sub(last).Abs() >= goOnWithin: // nothing to go on with
		faults = nil
	case err == nil && slices.ContainsFunc(log.Records, understood) && lock(file):
		return &recordFile{outing.NewRecorder(file, true), file, path, state.Outing, &state, faults}, nil
	}
	file.Close()
	return nil, faults
}

// understood tells whether a record is of this version and of a known kind.
func understood(r outing.Record) bool {
	_, opaque := r.Entry.(outing.Opaque)
	return !opaque
}

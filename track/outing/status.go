package outing

import (
	"fmt"
	"strings"
	"time"
)

// Status is how the recording goes.
type Status struct {
	// Stopped tells that the last record, or its sync, has failed. It is tried
	// again with every following record.
	Stopped bool
	Since   time.Time // of the first record that wasn't written
	Why     string    // printable, one line; kept after it works again, and for a refused record

	Written  int // records written
	Waiting  int // records kept in memory until they can be written
	Unsynced int // records that matter, written but not yet safe from a loss of power
	Lost     int // records given up: there were too many to keep
	Refused  int // records that can't be a line: a fault of the program, see Why

	// Oldest is the time of the oldest record that waits, for a write or a sync;
	// zero when none does.
	Oldest time.Time
}

// lateAfter is how long a record may wait until the operator is told: a disk
// that wakes up takes a few seconds (common practice, no source).
const lateAfter = 5 * time.Second

// Words tells the operator in one line what is wrong, at a time by the same
// clock as the records; "" while all is well.
func (s Status) Words(now time.Time) string {
	switch {
	case s.Stopped:
		return fmt.Sprintf("recording stopped %s ago: %s%s", ago(now, s.Since), s.Why, s.kept())
	case s.Waiting+s.Unsynced > 0 && now.Sub(s.Oldest) > lateAfter:
		return fmt.Sprintf("recording is %s behind: the disk does not answer%s", ago(now, s.Oldest), s.kept())
	case s.Refused > 0:
		return fmt.Sprintf("%s left out: %s", records(s.Refused), s.Why)
	case s.Lost > 0:
		return fmt.Sprintf("recording works again, %s lost", recordsAre(s.Lost))
	}
	return ""
}

// kept tells, in brackets, what has become of the records.
func (s Status) kept() string {
	var parts []string
	if s.Waiting > 0 {
		parts = append(parts, records(s.Waiting)+" kept for later")
	}
	if s.Unsynced > 0 {
		parts = append(parts, records(s.Unsynced)+" not safe from a power cut")
	}
	if s.Lost > 0 {
		parts = append(parts, records(s.Lost)+" lost")
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

// missing tells what is not on the disk at the end.
func (s Status) missing() string {
	if s.Waiting == 0 && s.Unsynced > 0 {
		return recordsAre(s.Unsynced) + " not safe from a power cut"
	}
	return recordsAre(s.Waiting) + " not written"
}

// records counts records in words: "1 record", "2 records".
func records(n int) string {
	if n == 1 {
		return "1 record"
	}
	return fmt.Sprintf("%d records", n)
}

// recordsAre is records with its verb.
func recordsAre(n int) string {
	if n == 1 {
		return "1 record is"
	}
	return records(n) + " are"
}

// ago says a time span to whole seconds or minutes.
func ago(now, since time.Time) string {
	d := max(0, now.Sub(since))
	if d < 2*time.Minute {
		return fmt.Sprintf("%d s", int(d.Seconds()))
	}
	return fmt.Sprintf("%d min", int(d.Minutes()))
}

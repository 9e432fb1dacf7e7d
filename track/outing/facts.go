package outing

import (
	"fmt"
	"time"
)

// Facts is what the program knows of what it can check itself. The zero Facts
// knows nothing, and nothing of it is as it should be.
type Facts struct {
	HasFix bool
	FixAge time.Duration // ignored without a fix
	// Fixed tells that the site was given by hand, which needs no fix.
	Fixed        bool
	ClockKnown   bool
	ClockError   time.Duration // how far the time used may be off
	HasElements  bool
	ElementsAge  time.Duration // at rise; negative: from after it
	FacingSet    bool
	DiskKnown    bool
	DiskFree     int64 // bytes, where the record is written
	RecordFailed bool  // it could not be written
}

// What the facts must be (common practice, no source).
const (
	maxFixAge      = 30 * time.Second
	maxClockError  = time.Second // a burst is prepared for to the second
	maxElementsAge = 3 * 24 * time.Hour
	minDiskFree    = 20 << 20 // bytes; the record of an outing is a few MB
)

// judge tells whether a fact is as it should be, and why not.
func (f Facts) judge(which Fact) (bool, string) {
	switch which {
	case FactFix:
		switch {
		case f.Fixed:
			return true, ""
		case !f.HasFix:
			return false, "no fix yet"
		case f.FixAge > maxFixAge:
			return false, fmt.Sprintf("the last fix is %s old", f.FixAge.Round(time.Second))
		}
	case FactClock:
		switch {
		case !f.ClockKnown:
			return false, "nothing to check the clock by"
		case f.ClockError.Abs() > maxClockError:
			return false, fmt.Sprintf("the clock may be %.1f s off", f.ClockError.Abs().Seconds())
		}
	case FactElements:
		switch {
		case !f.HasElements:
			return false, "no elements"
		case f.ElementsAge.Abs() > maxElementsAge:
			return false, fmt.Sprintf("they are %.1f days from their epoch", f.ElementsAge.Abs().Hours()/24)
		}
	case FactFacing:
		if !f.FacingSet {
			return false, "no facing set"
		}
	case FactDisk:
		switch {
		case f.RecordFailed:
			return false, "the record can't be written"
		case !f.DiskKnown:
			return false, "free space unknown"
		case f.DiskFree < minDiskFree:
			return false, fmt.Sprintf("%d MB left", max(f.DiskFree, 0)/1_000_000)
		}
	}
	return true, ""
}

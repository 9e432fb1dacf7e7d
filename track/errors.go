package track

import (
	"errors"
	"fmt"
	"time"

	"foreaim/track/elements"
)

// Reasons why there is no position, for errors.Is.
var (
	// ErrElements: a value of the set is out of its range.
	ErrElements = errors.New("bad elements")
	// ErrLowPerigee: the perigee is below 156 km, where the propagator is
	// wrong by hundreds of kilometres.
	ErrLowPerigee = errors.New("perigee below 156 km, too low for this propagator")
	// ErrDecayed: by its elements the object has come down.
	ErrDecayed = errors.New("by these elements the object has come down")
	// ErrBroken: the model has left its range (eccentricity, drag) and gives
	// no orbit any more.
	ErrBroken = errors.New("these elements give no orbit at this time")
	// ErrTooFar: the time is further from the epoch than maxSpan.
	ErrTooFar = errors.New("more than 50 years from the elements' epoch")
)

// A TimeError says that an orbit has no position at a time. Unwrap gives one
// of the reasons above.
type TimeError struct {
	Satellite string // name or catalogue number
	Time      time.Time
	Epoch     time.Time // of the elements
	Err       error
}

func (e *TimeError) Error() string {
	days := e.Time.Sub(e.Epoch).Hours() / 24
	side := "after"
	if days < 0 {
		days, side = -days, "before"
	}
	return fmt.Sprintf("%s: no position at %s, %.1f days %s the epoch: %v; elements with a nearer epoch may help",
		e.Satellite, e.Time.UTC().Format(time.RFC3339), days, side, e.Err)
}

func (e *TimeError) Unwrap() error { return e.Err }

// label names a set for people.
func label(set elements.Set) string {
	switch {
	case set.Name != "":
		return set.Name
	case set.CatalogueNumber > 0:
		return fmt.Sprintf("object %d", set.CatalogueNumber)
	default:
		return "unnamed object"
	}
}

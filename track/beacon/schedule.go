// Package beacon knows when a satellite's beacon sends: a schedule of bursts,
// the bursts expected in a pass, and the wait for the next one.
package beacon

import "time"

// Schedule is how a beacon sends: one burst every Period. Each burst's time is
// its start.
type Schedule struct {
	Period time.Duration // start to start; > 0
	// First is the start of any one burst; all others are whole periods from
	// it, before and after. Zero: the phase is unknown.
	First  time.Time
	Length time.Duration // of one burst; 0 when unknown
	// Tolerance is how far a burst's start may be from its computed time
	// (one standard deviation); 0 when unknown.
	Tolerance time.Duration
}

// Known tells whether burst times can be computed: a period and a phase.
func (s Schedule) Known() bool { return s.Period > 0 && !s.First.IsZero() }

// Burst is one expected transmission.
type Burst struct {
	Number int       // counted from Schedule.First, which is 0
	Time   time.Time // its start
}

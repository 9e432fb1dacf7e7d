// Package tui is the full-screen program: one file per view, one theme, one
// key map, no science.
package tui

import (
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/beacon"
)

// Target is one satellite that can be pointed at.
type Target struct {
	Orbit       *track.Orbit
	Name        string  // for the screen, without control characters
	FrequencyHz float64 // 0: unknown
	Schedule    beacon.Schedule
}

// Config is everything the program is given.
type Config struct {
	Now  func() time.Time // the computer's clock; time.Now when nil
	Zone *time.Location   // for local times; time.Local when nil

	Targets []Target
	Chosen  int // index into Targets

	// Site is where the antenna is until Reports says better; SiteKnown is
	// false while only a fix can tell. SiteFixed keeps Reports from moving it:
	// they only tell the time then.
	Site      track.Site
	SiteKnown bool
	SiteFixed bool
	Reports   <-chan gps.Report // nil without a receiver

	FacingDeg   float64 // true azimuth
	FacingKnown bool

	BeamwidthDeg    float64 // 0: 50
	FistDeg         float64 // 0: aim.FistDeg
	MinElevationDeg float64 // of a pass
	Silent          bool    // no bell

	Theme string // auto, light, dark or mono
	ASCII bool

	Title string // a short word that stays on the screen, such as "demo"; may be empty
}

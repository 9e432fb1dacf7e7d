package tui

import (
	"time"

	"foreaim/track"
)

// bomb is an object that panics once its time has come: in a frame, or in a
// command off the frames.
type bomb struct {
	arc
	where string
	at    time.Time
}

func (b bomb) Look(site track.Site, t time.Time) (track.Look, error) {
	if b.where == "update" && !t.Before(b.at) {
		panic("struck by lightning")
	}
	return b.arc.Look(site, t)
}

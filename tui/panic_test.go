package tui

import (
	"context"
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

// Passes runs in a command. The program asks for them once at the start, so the
// bomb takes its time.
func (b bomb) PassesOver(ctx context.Context, site track.Site, from, to time.Time, horizon track.Horizon) ([]track.Pass, error) {
	if b.where == "command" {
		time.Sleep(time.Second)
		panic("struck by lightning")
	}
	return b.arc.PassesOver(ctx, site, from, to, horizon)
}

package tui

import (
	"context"
	"errors"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// RadioSite is what is known of a satellite's signal at a site, and of strong
// transmitters there.
type RadioSite struct {
	Link radio.Link
	// Missing says what must be known for a link, or how to write that down; empty
	// where Link is whole.
	Missing  string
	Incoming []radio.Incoming // strong transmitters as they arrive; none: none are known
	Plan     *radio.Plan      // who may send where; nil: no channel is named
	Seen     radio.Seen       // on the receiver
}

// RadioSource tells what is known of a target's signal at a site. It may take its
// time and read files: it is called beside the frames, by one goroutine at a time.
// The context ends when another target or site is asked for.
type RadioSource func(ctx context.Context, t Target, site track.Site) (RadioSite, error)

// Vista is the ground from a site to a transmitter.
type Vista struct {
	Section     []terrain.SectionPoint
	Passage     terrain.Passage
	FreeSpaceDB float64 // loss without any ground
}

// GroundSource tells the ground towards a transmitter, under the rules of
// RadioSource.
type GroundSource func(ctx context.Context, site track.Site, to radio.Transmitter) (Vista, error)

// wayOut is what an error says, and the way out where it knows one.
func wayOut(err error) string {
	text := clean(err.Error())
	var h interface{ Hint() string }
	if errors.As(err, &h) && h.Hint() != "" {
		text += ": " + clean(h.Hint())
	}
	return text
}

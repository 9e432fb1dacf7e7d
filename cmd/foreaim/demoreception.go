package main

import (
	"context"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"
	"foreaim/tui"
)

// demoReception gives the screen what is known of signals and the ground on the
// invented outing.
func demoReception(w *world.World, screen *tui.Config) {
	screen.Radio = func(_ context.Context, t tui.Target, _ track.Site) (s tui.RadioSite, err error) {
		for i, one := range w.Satellites {
			if one.Set.Name != t.Name {
				continue
			}
			if s.Link, err = w.Link(i); err != nil {
				return s, failed("", "%w", err)
			}
			s.Seen = world.Seen(i)
		}
		for _, mast := range world.Transmitters() {
			in, err := mast.From(w.Spot(), nil)
			if err != nil {
				return s, failed("", "%w", err)
			}
			s.Incoming = append(s.Incoming, in)
		}
		s.Plan, err = radio.NewPlan(radio.Region1)
		return s, err
	}
	screen.Ground = func(_ context.Context, _ track.Site, to radio.Transmitter) (tui.Vista, error) {
		spot := w.Spot()
		way, passage, err := wayFrom(terrain.GroundFunc(world.GroundM), to, spot)
		if err != nil {
			return tui.Vista{}, failed("", "%w", err)
		}
		section, err := way.Section(linkOf(to, spot))
		return tui.Vista{Section: section, Passage: passage, FreeSpaceDB: freeSpaceDB(way, to, spot)}, err
	}
}

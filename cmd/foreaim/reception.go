package main

import (
	"context"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"
	"foreaim/tui"

	"github.com/spf13/pflag"
)

// receptionFlags are what the screen's view of the reception takes.
type receptionFlags struct {
	*linkFlags
	seen string // a file; empty: none
}

func newReceptionFlags() receptionFlags { return receptionFlags{linkFlags: newLinkFlags()} }

func (r *receptionFlags) add(f *pflag.FlagSet) {
	r.linkFlags.add(f)
	f.StringVar(&r.seen, "seen", "", "the signals or the spectrum that you saw here are in the CSV `FILE`, see survey")
}

// receive gives the screen what configuration and flags tell of signals and of
// the ground.
func (c config) receive(screen *tui.Config, f receptionFlags, g *ground) error {
	var seen radio.Seen
	if f.seen != "" {
		var err error
		if seen, err = readFile(f.seen, "name a CSV file with --seen FILE", radio.ReadSeen); err != nil {
			return err
		}
	}
	if f.beamwidthDeg.given {
		screen.BeamwidthDeg = f.beamwidthDeg.value
	}
	screen.Radio = func(_ context.Context, t tui.Target, site track.Site) (tui.RadioSite, error) {
		return c.radioSite(f, g, seen, t, site)
	}
	if g != nil {
		screen.Ground = g.vista
	}
	return nil
}

// radioSite is what is known of a target's signal at a site. What is missing for
// that is said: the transmitters are told even so.
func (c config) radioSite(f receptionFlags, g *ground, seen radio.Seen, t tui.Target, site track.Site) (s tui.RadioSite, err error) {
	s.Seen = seen
	if s.Plan, err = radio.NewPlan(c.region); err != nil {
		return s, wrong("", "%w", err)
	}
	if s.Incoming, err = c.readTransmitters(f.linkFlags, site, g.sightOf(site)); err != nil {
		return s, err
	}
	if s.Link, err = c.link(satellite{orbit: t.Orbit, frequencyHz: t.FrequencyHz}, f.linkFlags); err != nil {
		s.Missing = withHint(err)
		s.Link = radio.Link{FrequencyHz: t.FrequencyHz, Mode: radio.Mode{BandwidthHz: usualBandwidthHz}}
		return s, nil
	}
	chains, err := c.chainsFor(f.chains)
	if err != nil {
		return s, err
	}
	s.Link.Chain = chains[0]
	return s, nil
}

// withHint is an error's text with the way out, if it knows one.
func withHint(err error) string {
	if hint := hintOf(err); hint != "" {
		return err.Error() + ": " + hint
	}
	return err.Error()
}

// sightOf is what the paths of transmitters to a site need to know of the ground,
// without a look at its skyline.
func (g *ground) sightOf(site track.Site) sight {
	if g == nil {
		return sight{}
	}
	all := sight{tiles: g}
	if m, err := g.HeightM(site.LatitudeDeg, site.LongitudeDeg); err == nil {
		all.ground = &terrain.Panorama{GroundM: m, AntennaM: g.antennaM}
	}
	return all
}

// vista is the ground from a site to a transmitter, for the screen.
func (g *ground) vista(_ context.Context, site track.Site, to radio.Transmitter) (tui.Vista, error) {
	v, err := newVista(g, site, to)
	return tui.Vista{Section: v.section, Passage: v.passage, FreeSpaceDB: v.freeDB}, err
}

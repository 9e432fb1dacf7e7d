package main

import (
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/north"

	"github.com/spf13/cobra"
)

func newNorthCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	more := values[north.Landmark]{value: value[north.Landmark]{parse: parseLandmark, kind: "NAME=LAT,LON[,HEIGHT_M]"}}
	cmd := &cobra.Command{
		Use:   "north",
		Short: "find true north: sun, moon, pole star, landmarks, compass",
		Long: `Tell by what true north can be found at a site and time, the best first: the
sun's shadow, the moon, the pole star, the landmarks of the configuration and
those remembered in the field, and a compass with its declination by the World
Magnetic Model. Lay the boom along one of them and you know what you face.

` + north.SunCaution,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			if len(o.at.all) > 1 {
				return wrong("", "one --at is enough")
			}
			p, err := sys.findPlace(cmd.Context(), o, c)
			if err != nil {
				return err
			}
			at := p.now
			if len(o.at.all) > 0 {
				at = o.at.all[0]
			}
			return sys.north(o, p.site, at, append(more.all, sys.landmarks(c)...))
		},
	}
	f := cmd.Flags()
	o.addSite(f)
	o.addAt(f, "at this time (now without it)")
	f.Var(&more, "landmark", "this can be seen from there, too (repeatable)")
	o.addJSON(f)
	return cmd
}

// north tells what shows the way at a site and time.
func (sys system) north(o *options, site track.Site, at time.Time, landmarks []north.Landmark) error {
	if err := site.Check(); err != nil {
		return wrong("", "%w", err)
	}
	n := newNorthHere(site, at, landmarks)
	if o.json {
		return printJSON(sys.stdout, n.answer())
	}
	_, err := fmt.Fprintf(sys.stdout, "%s\n%s", item("", sayPlace(site)+" at "+sys.bothTimes(at)), n)
	return err
}

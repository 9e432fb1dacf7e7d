package main

import (
	"fmt"
	"strconv"
	"time"

	"foreaim/track/elements"
	"foreaim/track/outing/review"
	"foreaim/tui"

	"github.com/spf13/cobra"
)

// pointing is what the pointing aid is asked for.
type pointing struct {
	*options
	source string
	sensor string
	facing value[float64]
	screen screenFlags
	radio  receptionFlags

	unrecorded bool
}

func newPointing(sys system) *pointing {
	return &pointing{options: newOptions(sys), radio: newReceptionFlags(), facing: value[float64]{parse: parseFacing, kind: "DEG"}}
}

func newPointCommand(sys system) *cobra.Command {
	p := newPointing(sys)
	cmd := &cobra.Command{
		Use:   "point [SAT]",
		Short: "open the full-screen pointing aid (also without the word point)",
		Long: `Open the full-screen program: which way to turn and how far, how high to hold,
and how long until the next burst. The site comes from the GPS receiver as soon
as it has a fix, unless --site says it; the hills around it come from --terrain
then. Where standard output is no terminal, one picture of the moment is printed
as plain text.

When bursts come is learned from marks where no time is given, or one that is
good to worse than a second, and learned anew in each pass. Without a voice or
tones of the configuration the bell rings: once to hold, twice to go left, three
times right, four times for a burst; up ends slowly, down begins slowly.

Before you swing an antenna: no overhead line within its reach, no thunderstorm,
even ground at your feet, and never look along the boom at the sun.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error { return sys.point(cmd, p, args) },
	}
	p.add(cmd)
	return cmd
}

func (p *pointing) add(cmd *cobra.Command) {
	f := cmd.Flags()
	p.addElements(f)
	p.addSite(f)
	f.StringVar(&p.source, "source", "", "read the GPS receiver at this `URL`, such as serial:///dev/ttyUSB0")
	f.StringVar(&p.sensor, "sensor", "", "read an electronic compass on the boom at this `URL`, if it has a port of its own")
	f.Var(&p.facing, "facing", "you look along this true azimuth")
	p.addFrequency(f)
	p.addBeacon(f)
	p.addSkyline(f)
	p.radio.add(f)
	f.BoolVar(&p.unrecorded, "no-record", false, "keep no record of this outing")
	p.screen.add(f)
}

func parseFacing(text string) (float64, error) {
	deg, err := strconv.ParseFloat(text, 64)
	if err != nil || !(deg >= 0 && deg <= 360) {
		return 0, wrong("a facing is the true azimuth straight ahead, such as 135", "%q is not 0 to 360 degrees", text)
	}
	return deg, nil
}

func (sys system) point(cmd *cobra.Command, p *pointing, names []string) error {
	ctx := cmd.Context()
	c, err := sys.configFor(cmd)
	if err != nil {
		return err
	}
	config, err := p.screen.config(sys)
	if err != nil {
		return err
	}
	around, err := p.openSurround(c)
	if err != nil {
		return err
	}
	if config.Targets, err = sys.targets(p.options, c, p.radio.linkFlags, names); err != nil {
		return err
	}
	sys.expectLasting(&config)
	config.Catalogue = sys.openCatalogue(p.options, c, p.radio.linkFlags)
	c.settle(&config)
	if err := c.receive(&config, p.radio, around.ground); err != nil {
		return err
	}
	config.Landmarks, config.Remember = sys.landmarks(c), sys.remember(c)
	if len(names) == 0 {
		config.Chosen = -1 // the satellite of the outing that is taken up
	}
	config.Now = sys.now
	config.FacingDeg, config.FacingKnown = p.facing.value, p.facing.given
	if p.source != "" {
		c.gpsSource = p.source
	}

	if !sys.terminal {
		here, err := sys.findPlace(ctx, p.options, c)
		if err != nil {
			return err
		}
		// findPlace has corrected the clock already, where it could.
		ahead := here.now.Sub(sys.now())
		config.Now = func() time.Time { return sys.now().Add(ahead) }
		config.Site, config.SiteKnown = here.site, true
		if err := sys.hideSky(ctx, around, &config); err != nil {
			return err
		}
		if config.Hills.Note != "" {
			sys.warn("%s: it hides nothing", config.Hills.Note)
		}
		_, err = fmt.Fprint(sys.stdout, tui.Picture(config, sys.width))
		return err
	}

	switch {
	case p.site.given:
		config.Site, config.SiteKnown, config.SiteFixed = p.site.value, true, true
	case c.site != nil:
		config.Site, config.SiteKnown = *c.site, true
	case c.gpsSource == "":
		return noSite()
	}
	if err := sys.hideSky(ctx, around, &config); err != nil {
		return err
	}
	if p.sensor != "" {
		c.sensor = p.sensor
	}
	receiver, err := sys.openReceivers(ctx, c, &config)
	if err != nil {
		return err
	}
	if receiver != nil {
		defer receiver.Close()
		config.Reports = receiver.Reports()
	}
	defer c.outfit(&config)()
	if p.unrecorded {
		return sys.show(ctx, config)
	}
	record, err := openRecord(sys.records, sys.now())
	if err != nil {
		return failed("add --no-record to go on without one", "%w", err)
	}
	record.tell(sys)
	record.show(&config, sys.version, review.Settings{BeamwidthDeg: config.BeamwidthDeg, Margin: c.marginOf(p.radio.linkFlags, 0)})
	err = sys.show(ctx, config)
	if err := record.Close(); err != nil {
		sys.warn("%s: %v", record.path, err)
	}
	return err
}

// targets are the satellites to choose from on the screen: the one that is
// named comes first, then those of the configuration that have elements.
func (sys system) targets(o *options, c config, f *linkFlags, names []string) ([]tui.Target, error) {
	l, err := sys.openLibrary(o.elements)
	if err != nil {
		return nil, err
	}
	var chosen []elements.Set
	for _, entry := range c.satellites {
		if set, ok := l.find(entry.key()); ok {
			chosen = append(chosen, set)
		}
	}
	if len(names) > 0 || len(chosen) == 0 {
		first, err := c.chooseAll(l, names)
		if err != nil {
			return nil, err
		}
		chosen = append(first, chosen...)
	}
	var targets []tui.Target
	for i, set := range chosen {
		if i > 0 && set == chosen[0] {
			continue
		}
		s, err := newSatellite(set, o, c)
		if err != nil {
			return nil, err
		}
		s.history = l.history(set)
		targets = append(targets, newTarget(s, c, f))
	}
	return targets, nil
}

// newTarget makes of a satellite what the screen points at. Where a file that its
// link needs can't be read, nothing is expected of its signal: the screen's view of
// the reception says why, and pointing goes on.
func newTarget(s satellite, c config, f *linkFlags) tui.Target {
	set := s.orbit.Elements()
	t := tui.Target{
		Orbit: s.orbit, Name: name(set), FrequencyHz: s.frequencyHz, Schedule: s.schedule,
		File: plain(set.File), Likely: s.likely,
		TwistUnknown: c.signalOf(s).polarisation.TwistMatters(c.antenna.polarisation),
	}
	if promise, err := c.promised(s, f); err == nil && promise != nil {
		t.MarginDB, t.MarginSigmaDB = promise.MarginDB, promise.SigmaDB
	}
	return t
}

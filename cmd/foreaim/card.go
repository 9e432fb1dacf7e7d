package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/north"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
)

// The page that any printer prints: columns and lines of plain ASCII.
const (
	pageWidth = 80
	pageLines = 60
)

// defaultBeamwidthDeg is taken for an antenna that nobody described: a hand-held
// one of a few elements (common practice, no source).
const defaultBeamwidthDeg = 50

// cautions are the dangers of a boom in the hand, in two lines.
var cautions = [...]string{
	"Keep away from overhead lines. Never look along the boom at the sun.",
	"Go inside at the first thunder. Turn on even ground only, without a drop.",
}

// addCard adds the flags of the paper card.
func (o *options) addCard(cmd *cobra.Command) *bool {
	o.addFrequency(cmd.Flags())
	card := cmd.Flags().Bool("card", false, "print the holds of the pass under way or next as one page for paper; looks 3d ahead without --for")
	cmd.PreRunE = func(*cobra.Command, []string) error {
		if *card && o.json {
			return wrong("the same numbers for programs are in: foreaim bursts --json", "--card is for paper, --json for programs: give one of them")
		}
		return nil
	}
	return card
}

// printCard prints the card of one pass: what is needed when the battery is
// empty.
func (sys system) printCard(ctx context.Context, t task, o *options, from time.Time, lowest value[float64]) error {
	if n := len(t.satellites); n > 1 {
		return wrong("name one satellite and print a card for each", "--card is for one satellite, not for %d", n)
	}
	pass, err := nextPass(ctx, t, from, o.span, lowest)
	if err != nil {
		return err
	}
	sys.warnOfAge(pass.satellite, pass.Rise.Time)
	settings := aim.Settings{Schedule: pass.schedule, BeamwidthDeg: t.config.beamwidth.narrower()}
	if settings.BeamwidthDeg == 0 {
		settings.BeamwidthDeg = defaultBeamwidthDeg
	}
	plan, err := aim.PlanPass(pass.orbit, t.site, pass.Pass, from, settings)
	if err != nil {
		return failed("", "%w", err)
	}
	c := newCard(sys, t, pass)
	_, err = fmt.Fprintln(sys.stdout, strings.Join(c.page(plan, from), "\n"))
	return err
}

// card words one pass for paper. Its times are in one zone, that of the rise,
// even when the clocks change meanwhile.
type card struct {
	sys     system
	task    task
	pass    passOf
	compass compass
	fistDeg float64
}

func newCard(sys system, t task, pass passOf) card {
	sys.local = time.FixedZone(pass.Rise.Time.In(sys.local).Zone())
	c := card{sys: sys, task: t, pass: pass, compass: newCompass(t.site, pass.Rise.Time), fistDeg: t.config.fistDeg}
	if c.fistDeg == 0 {
		c.fistDeg = aim.FistDeg
	}
	return c
}

// page returns the lines of the card. Holds that are over by the given time are
// left out, and so are the last ones where the page is full.
func (c card) page(plan aim.Plan, from time.Time) []string {
	head := append(c.head(), "")
	head = append(head, c.moments()...)
	head = append(head, "")
	if words := c.waiting(plan); len(words) > 0 {
		head = append(append(head, words...), "")
	}
	foot := slices.Concat([]string{""}, splitLines(c.compass.note), []string{c.clock()}, cautions[:])
	lines := append(head, c.holds(plan, from, pageLines-len(head)-len(foot))...)
	lines = append(lines, foot...)
	for i, line := range lines {
		lines[i] = ansi.Truncate(ascii(line), pageWidth, "...")
	}
	return lines
}

// head says what the card is for.
func (c card) head() []string {
	set := c.pass.orbit.Elements()
	site := c.task.site
	site.Name = ""
	place := sayPlace(site)
	if c.task.site.Name != "" { // last, as it may be long
		place += ", " + plain(c.task.site.Name)
	}
	lines := []string{
		fmt.Sprintf("%s   %s", c.pass.Rise.Time.In(c.sys.local).Format(time.DateOnly), title(set)),
		place,
	}
	lines = append(lines, splitLines(c.sys.sayLikely(c.pass.satellite, c.pass.Rise.Time))...)
	var beacon []string
	if hz := c.pass.frequencyHz; hz > 0 {
		beacon = append(beacon, "sends on "+sayMHz(hz)+" MHz")
	}
	s := c.pass.schedule
	if s.Period > 0 {
		beacon = append(beacon, fmt.Sprintf("a burst every %s", sayDuration(s.Period)))
	}
	if s.Length > 0 {
		beacon = append(beacon, fmt.Sprintf("%s long", sayDuration(s.Length)))
	}
	if s.Known() && s.Tolerance > 0 {
		beacon = append(beacon, fmt.Sprintf("its time ±%s", sayDuration(s.Tolerance)))
	}
	if len(beacon) > 0 {
		lines = append(lines, "Beacon: "+strings.Join(beacon, ", ")+".")
	}
	return lines
}

// moments are rise, peak and set; an object that is always up has only a peak.
func (c card) moments() []string {
	rows := newTable("", c.zone(), "UTC", ">true", ">mag", ">el", ">fists")
	add := func(what string, l track.Look) {
		rows.add(append([]string{what, c.clockTime(l.Time), c.sys.utcBeside(l.Time)}, c.direction(l.AzimuthDeg, l.ElevationDeg)...)...)
	}
	if c.pass.AlwaysUp {
		add("peak", c.pass.Peak)
		return append(splitLines(rows.String()), "It is always up here: the holds of one time only.")
	}
	add("rise", c.pass.Rise)
	add("peak", c.pass.Peak)
	add("set", c.pass.Set)
	return splitLines(rows.String())
}

// waiting says what to do where the times of the bursts are unknown.
func (c card) waiting(plan aim.Plan) []string {
	switch {
	case plan.BurstsKnown:
		return nil
	case c.pass.schedule.Period == 0:
		return []string{
			"When and how often it sends is unknown, and so is the longest wait:",
			"follow it by holding each direction from its first to its last second.",
		}
	}
	return []string{
		"The times of the bursts are unknown: hold each direction to its last second.",
		fmt.Sprintf("The longest wait for the start of a burst is %s.", sayDuration(c.pass.schedule.LongestWait())),
	}
}

// clock tells how to set a watch.
func (c card) clock() string {
	const text = "Set your watch by the GPS: this computer"
	offset := c.task.clock.OffsetS
	switch {
	case !c.task.clock.Known:
		return text + "'s clock was not checked."
	case offset < 0:
		return fmt.Sprintf("%s was %.1f s fast.", text, -offset)
	}
	return fmt.Sprintf("%s was %.1f s slow.", text, offset)
}

// direction says an azimuth, true and magnetic, and an elevation in degrees and
// fists, as a hand can follow them.
func (c card) direction(azimuthDeg, elevationDeg float64) []string {
	magnetic := ""
	if c.compass.known {
		magnetic = wholeAzimuth(north.MagneticDeg(azimuthDeg, c.compass.field.DeclinationDeg))
	}
	return []string{wholeAzimuth(azimuthDeg), magnetic, fmt.Sprintf("%.0f", math.Round(elevationDeg)+0),
		fmt.Sprintf("%.1f", math.Round(elevationDeg/c.fistDeg*10)/10+0)}
}

func wholeAzimuth(deg float64) string { return fmt.Sprintf("%.0f", track.Wrap360(math.Round(deg))) }

// zone is what the card's local time is called.
func (c card) zone() string {
	name, _ := c.pass.Rise.Time.In(c.sys.local).Zone()
	return name
}

func (c card) clockTime(t time.Time) string {
	return t.Round(time.Second).In(c.sys.local).Format(time.TimeOnly)
}

func splitLines(text string) []string { return strings.Split(strings.TrimRight(text, "\n"), "\n") }

package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/radio"

	"github.com/spf13/cobra"
)

// filterFlags are what a filter is built for and of.
type filterFlags struct {
	wanted      value[radio.StopBand]
	against     values[radio.StopBand]
	tolerableDB value[float64]
	cable       string
	velocity    value[float64]
	satellite   string
}

func newFilterCommand(sys system) *cobra.Command {
	o, l := newOptions(sys), newLinkFlags()
	v := filterFlags{
		wanted:      value[radio.StopBand]{parse: parseBand, kind: "LOW-HIGH"},
		against:     values[radio.StopBand]{value: value[radio.StopBand]{parse: parseStop, kind: "LOW-HIGH[:DB]"}},
		tolerableDB: value[float64]{parse: numberWithin("a loss looks like 2", 0.1, 30), kind: "DB"},
		velocity:    value[float64]{parse: numberWithin("a velocity factor looks like 0.66", 0.4, 1), kind: "FACTOR"},
	}
	cmd := &cobra.Command{
		Use:   "filter",
		Short: "design a filter to build of cable or of coils and capacitors",
		Long: `Design filters that let the beacon through and take off what is strong beside
it: stubs of coaxial cable, and low-pass, high-pass and band-pass filters of
coils and capacitors, each with what it really does, how to build it, and what
it may harm.

Say what to take off with --against (in MHz, and by how much), or let it be
found from --transmitters and the configuration's chain and satellite.`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			coax, err := v.coax()
			if err != nil {
				return err
			}
			var advice radio.FilterAdvice
			var task radio.FilterTask
			switch {
			case len(v.against.all) > 0:
				task, advice, err = v.byHand(o, c, coax)
			case l.transmitters == "" && c.transmitters == "":
				err = wrong("add --against 470-694:30, or --transmitters FILE", "what the filter is to take off is unknown")
			default:
				var p place
				if p, err = sys.findPlace(cmd.Context(), o, c); err == nil {
					task, advice, err = v.byTransmitters(o, l, c, coax, p.site)
				}
			}
			if err != nil {
				return err
			}
			if o.json {
				return printJSON(sys.stdout, newFilterJSON(advice, task))
			}
			return sys.printFilters(advice, task)
		},
	}
	f := cmd.Flags()
	f.Var(&v.wanted, "pass", "let this band through, in MHz (the beacon's channel without it)")
	f.Var(&v.against, "against", "take this band off, in MHz, and by so many dB (20 without) (repeatable)")
	f.Var(&v.tolerableDB, "tolerable", "the wanted band may lose so many dB (2 without it, or as much as the link bears)")
	f.StringVar(&v.cable, "cable", "", "make stubs of the cable `NAME`: "+cableNames())
	f.Var(&v.velocity, "velocity", "the cable's velocity factor, where its data sheet tells")
	f.StringVar(&v.satellite, "satellite", "", "the beacon is that of `SAT` of the configuration")
	o.addSite(f)
	o.addTerrain(f)
	o.addFrequency(f)
	l.add(f)
	o.addJSON(f)
	return cmd
}

func cableNames() string {
	var names []string
	for _, c := range radio.Cables() {
		names = append(names, c.Name)
	}
	return strings.Join(names, "; ")
}

// coax is the cable that is named, else the first of the usual ones.
func (v filterFlags) coax() (radio.Coax, error) {
	all := radio.Cables()
	chosen := all[0]
	if v.cable != "" {
		found := false
		for _, c := range all {
			if sameName(c.Name, v.cable) {
				chosen, found = c, true
			}
		}
		if !found {
			return chosen, wrong("the cables are "+cableNames()+"; or say --velocity of your own", "there is no cable %q", v.cable)
		}
	}
	chosen.VelocityFactor = v.velocity.or(chosen.VelocityFactor)
	return chosen, nil
}

// parseBand reads a band in MHz: "435-438", or one frequency.
func parseBand(text string) (radio.StopBand, error) {
	const hint = "a band looks like 470-694, in MHz"
	low, high, both := strings.Cut(strings.TrimSpace(text), "-")
	if !both {
		high = low
	}
	var b radio.StopBand
	var errs [2]error
	b.LowMHz, errs[0] = strconv.ParseFloat(strings.TrimSpace(low), 64)
	b.HighMHz, errs[1] = strconv.ParseFloat(strings.TrimSpace(high), 64)
	if errs[0] != nil || errs[1] != nil || !(b.LowMHz >= 1 && b.HighMHz >= b.LowMHz && b.HighMHz <= 1e4) {
		return b, wrong(hint, "%q is not a band within 1 to 10000 MHz", text)
	}
	return b, nil
}

// usualStopDB is what a filter is to take off where nobody says.
const usualStopDB = 20

// parseStop reads a band to be taken off: "470-694:30".
func parseStop(text string) (radio.StopBand, error) {
	band, db, given := strings.Cut(text, ":")
	b, err := parseBand(band)
	if err != nil {
		return b, err
	}
	b.NeededDB = usualStopDB
	if given {
		b.NeededDB, err = numberWithin("so many dB look like 470-694:30", 1, 80)(db)
	}
	return b, err
}

// byHand designs for what the command line says.
func (v filterFlags) byHand(o *options, c config, coax radio.Coax) (radio.FilterTask, radio.FilterAdvice, error) {
	t := radio.FilterTask{Stops: v.against.all, TolerableDB: v.tolerableDB.or(2), SystemOhm: 50}
	entry, err := c.surveyed(v.satellite, outing.State{})
	hz := o.frequencyHz.or(entry.frequencyHz)
	switch {
	case v.wanted.given:
		t.WantedLowMHz, t.WantedHighMHz = v.wanted.value.LowMHz, v.wanted.value.HighMHz
	case err != nil:
		return t, radio.FilterAdvice{}, err
	case hz > 0:
		t.WantedLowMHz, t.WantedHighMHz = hz/1e6-0.02, hz/1e6+0.02
	default:
		return t, radio.FilterAdvice{}, wrong("add --pass 435-438 or --frequency 437.1M", "what the filter is to let through is unknown")
	}
	if err := t.Check(); err != nil {
		return t, radio.FilterAdvice{}, wrong("", "%w", err)
	}
	a, err := t.Suggest(coax, radio.HandMade())
	if err != nil {
		return t, a, wrong("", "%w", err)
	}
	return t, a, nil
}

// byTransmitters designs for what transmitters do to the beacon at a site.
func (v filterFlags) byTransmitters(o *options, l *linkFlags, c config, coax radio.Coax, site track.Site) (t radio.FilterTask, a radio.FilterAdvice, err error) {
	entry, err := c.surveyed(v.satellite, outing.State{})
	if err != nil {
		return t, a, err
	}
	g, err := o.openGround(c)
	if err != nil {
		return t, a, err
	}
	incoming, err := c.readTransmitters(l, site, g.sightOf(site))
	if err != nil {
		return t, a, err
	}
	link, err := c.linkOf(entry.signal, o.frequencyHz.or(entry.frequencyHz), cmp.Or(entry.name, "the beacon"), l)
	if err != nil {
		return t, a, err
	}
	chains, err := c.chainsFor(l.chains)
	if err != nil {
		return t, a, err
	}
	link.Chain = chains[0]
	if err := link.Check(); err != nil {
		return t, a, wrong("", "%w", err)
	}
	surroundings, look := radio.NewSurroundings(link, incoming), track.Look{ElevationDeg: 30, RangeKm: 1000}
	if advice := surroundings.Advise(look, 0); len(advice.Remedies) == 0 {
		return t, a, failed("", "no filter is needed: %s", advice.Words)
	}
	a, t, err = surroundings.SuggestFilters(look, 0, coax, radio.HandMade())
	if err != nil {
		return t, a, failed("", "no filter: %w", err)
	}
	return t, a, nil
}

// printFilters prints filters for people: the best in full, the others in a line.
func (sys system) printFilters(a radio.FilterAdvice, t radio.FilterTask) error {
	var b strings.Builder
	told := len(a.Ideas) > 0 && strings.Contains(a.Words, a.Ideas[0].Words) // the verdict is about the first one
	if told {
		b.WriteString(item("1. ", a.Words))
	} else {
		b.WriteString(item("", a.Words))
	}
	for i, idea := range a.Ideas {
		if i > 0 || !told {
			b.WriteString("\n" + item(fmt.Sprintf("%d. ", i+1), idea.Words))
		}
		if i > 0 {
			continue
		}
		b.WriteString("\n" + strings.Join(idea.Plot(t, 64, 13), "\n") + "\n")
		b.WriteString("w: wanted, x: to be taken off; a column of colons is all that it may be.\n\n")
		b.WriteString(strings.Join(idea.Build, "\n") + "\n\n")
		for _, caution := range idea.Cautions {
			b.WriteString(item("", "Caution: "+caution))
		}
	}
	for _, r := range a.Refused {
		b.WriteString("\n" + item("", "Not "+r))
	}
	_, err := fmt.Fprint(sys.stdout, b.String())
	return err
}

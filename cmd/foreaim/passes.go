package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/radio"

	"github.com/spf13/cobra"
)

func newPassesCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	lowest := value[float64]{parse: parseElevation, kind: "DEG"}
	var card *bool
	cmd := &cobra.Command{
		Use:   "passes [SAT...]",
		Short: "list the passes of one or several satellites",
		Long: `List when satellites rise, peak and set. A pass under way at either end of the
time is given whole. With a period, the bursts to expect are counted; with a
chain and the satellite's power in the configuration, the margin for hearing at
the peak is told.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := sys.prepare(cmd, o, args)
			if err != nil {
				return err
			}
			from := o.from.or(t.now)
			if *card {
				return sys.printCard(cmd.Context(), t, o, from, lowest)
			}
			passes, err := findPasses(cmd.Context(), t, from, from.Add(o.span.or(day)), lowest.value)
			if err != nil {
				return err
			}
			for _, s := range t.satellites {
				sys.warnOfAge(s, from)
			}
			if err := t.delay(cmd.Context(), passes, lowest.value); err != nil {
				return err
			}
			if err := t.expect(passes); err != nil {
				return err
			}
			if o.json {
				return printPassesJSON(sys, t.site, passes)
			}
			return sys.printPasses(t, from, o.span.or(day), passes)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	o.addSpan(f, "from this time (now without it)", "for this long (24h without it)")
	f.Var(&lowest, "min-elevation", "only what is above this elevation (0 without it)")
	o.addSkyline(f)
	o.addBeacon(f)
	card = o.addCard(cmd)
	o.addJSON(f)
	return cmd
}

// passOf is a pass and whose it is.
type passOf struct {
	satellite
	track.Pass
	hearing *radio.Range  // margin at the peak, dB; nil: too little is known
	delay   *skylineDelay // what the skyline takes off at both ends; nil: not known
}

// findPasses finds the passes of all satellites, in the order of their rises.
func findPasses(ctx context.Context, t task, from, to time.Time, lowestDeg float64) ([]passOf, error) {
	var all []passOf
	for _, s := range t.satellites {
		passes, err := s.orbit.PassesOver(ctx, t.site, from, to, t.horizon(lowestDeg))
		if err != nil {
			return nil, failed("", "%w", err)
		}
		for _, p := range passes {
			all = append(all, passOf{satellite: s, Pass: p})
		}
	}
	slices.SortStableFunc(all, func(a, b passOf) int { return a.Rise.Time.Compare(b.Rise.Time) })
	return all, nil
}

// passAnswer is one pass of the answer. An object that never sets has no rise
// and no set; its peak is the highest of the time searched.
type passAnswer struct {
	Satellite       string    `json:"satellite"`
	CatalogueNumber int       `json:"catalogue_number"`
	AlwaysUp        bool      `json:"always_up,omitempty"`
	Rise            *lookJSON `json:"rise,omitempty"`
	Peak            *lookJSON `json:"peak,omitempty"`
	Set             *lookJSON `json:"set,omitempty"`
	DurationS       *float64  `json:"duration_s,omitempty"`

	Hidden []hiddenJSON `json:"hidden,omitempty"` // between rise and set
	delayJSON

	BurstsExpected *int `json:"bursts_expected,omitempty"`

	// How late or early the object may be at the peak, and what that makes there.
	TimeErrorSigmaS   *float64 `json:"time_error_sigma_s,omitempty"`
	PeakErrorSigmaDeg *float64 `json:"peak_error_sigma_deg,omitempty"`

	HearingMarginDB     *float64 `json:"hearing_margin_db,omitempty"` // at the peak
	HearingMarginLowDB  *float64 `json:"hearing_margin_low_db,omitempty"`
	HearingMarginHighDB *float64 `json:"hearing_margin_high_db,omitempty"`
}

func newPassAnswer(site track.Site, p passOf) (passAnswer, error) {
	set := p.orbit.Elements()
	peak := newLookJSON(p.Peak)
	answer := passAnswer{Satellite: name(set), CatalogueNumber: set.CatalogueNumber, Peak: &peak, AlwaysUp: p.AlwaysUp, Hidden: newHiddenJSON(p.Pass), delayJSON: newDelayJSON(p.delay)}
	answer.TimeErrorSigmaS = number(p.likely(p.Peak.Time).SigmaS, 2)
	answer.PeakErrorSigmaDeg = number(p.offDeg(site, p.Peak.Time), 2)
	if p.hearing != nil {
		answer.HearingMarginDB, answer.HearingMarginLowDB, answer.HearingMarginHighDB = ends(*p.hearing)
	}
	if !p.AlwaysUp {
		rise, set := newLookJSON(p.Rise), newLookJSON(p.Set)
		answer.Rise, answer.Set = &rise, &set
		answer.DurationS = number(p.Duration().Seconds(), 3)
	}
	if p.schedule.Period > 0 {
		least, _, err := p.countBursts()
		if err != nil {
			return answer, err
		}
		answer.BurstsExpected = &least
	}
	return answer, nil
}

func printPassesJSON(sys system, site track.Site, passes []passOf) error {
	answers := make([]passAnswer, 0, len(passes))
	for _, p := range passes {
		answer, err := newPassAnswer(site, p)
		if err != nil {
			return err
		}
		answers = append(answers, answer)
	}
	return printJSON(sys.stdout, answers)
}

func (sys system) printPasses(t task, from time.Time, span time.Duration, passes []passOf) error {
	var titles []string
	for _, s := range t.satellites {
		titles = append(titles, title(s.orbit.Elements()))
	}
	head := item("", strings.Join(titles, ", ")+" over "+sayPlace(t.site))
	if len(t.satellites) == 1 {
		head += sys.sayLikely(t.satellites[0], from) + "\n"
	}
	if len(passes) == 0 {
		_, err := fmt.Fprintf(sys.stdout, "%s\nNo pass from %s to %s.\n", head, sys.bothTimes(from), sys.bothTimes(from.Add(span)))
		return err
	}
	compass := newCompass(t.site, from)
	column := sys.riseColumn(passes)
	rows := newTable("satellite", column.heading, "UTC", ">T: rise", ">peak", ">set",
		">M: rise", ">peak", ">set", ">up", ">off there", ">lasts", ">rises late", ">sets early", ">hidden", ">bursts", ">to hear, dB")
	rows.keys = 3
	for _, p := range passes {
		row, err := sys.passRow(compass, column, t.site, p, len(t.satellites) > 1)
		if err != nil {
			return err
		}
		rows.add(row...)
	}
	_, err := fmt.Fprintf(sys.stdout, "%s\n%s\n%sT: true azimuth, M: magnetic.\n%s\n", head, rows, column.note, compass.note)
	return err
}

func (sys system) passRow(c compass, column riseColumn, site track.Site, p passOf, named bool) ([]string, error) {
	whose := ""
	if named {
		whose = name(p.orbit.Elements())
	}
	bursts, err := sayBurstCount(p)
	row := []string{whose, column.say(p.Rise.Time), column.utc(p.Rise.Time)}
	lasts := minutes(p.Duration())
	if p.AlwaysUp {
		row[1], row[2], lasts = "always up", "", ""
	}
	late, early := p.delay.cells()
	for _, say := range []func(float64) string{wholeTrue, c.wholeMagnetic} {
		rise, set := say(p.Rise.AzimuthDeg), say(p.Set.AzimuthDeg)
		if p.AlwaysUp && rise != "" { // no rise, no set: those are the ends of the search
			rise, set = "-", "-"
		}
		row = append(row, rise, say(p.Peak.AzimuthDeg), set)
	}
	return append(row, fmt.Sprintf("%.0f°", math.Round(p.Peak.ElevationDeg)+0), sayOff(p.offDeg(site, p.Peak.Time)), lasts, late, early, sayHidden(p.Pass), bursts, sayMargin(p.hearing)), err
}

// riseColumn is how a table says when passes rise.
type riseColumn struct {
	heading  string
	say, utc func(time.Time) string
	note     string // what the clock is against UTC; a sentence and a space, or empty
}

// riseColumn leaves out what is the same in all rows: the year, the zone, and
// with that what UTC is. Where the clocks or the year change meanwhile all of it
// is said.
func (sys system) riseColumn(passes []passOf) riseColumn {
	at := func(p passOf) time.Time { return p.Rise.Time.Round(time.Second).In(sys.local) }
	zone, offset := at(passes[0]).Zone()
	year := at(passes[0]).Year()
	for _, p := range passes {
		if z, o := at(p).Zone(); z != zone || o != offset || at(p).Year() != year {
			return riseColumn{"rises, local time", sys.localTime, sys.utcBeside, ""}
		}
	}
	c := riseColumn{
		heading: fmt.Sprintf("rises %d, %s", year, zone),
		say:     func(t time.Time) string { return t.Round(time.Second).In(sys.local).Format("01-02 15:04:05") },
		utc:     func(time.Time) string { return "" },
	}
	ahead := sayDuration((time.Duration(offset) * time.Second).Abs())
	switch {
	case offset > 0:
		c.note = fmt.Sprintf("%s is %s ahead of UTC. ", zone, ahead)
	case offset < 0:
		c.note = fmt.Sprintf("%s is %s behind UTC. ", zone, ahead)
	case zone != "UTC":
		c.note = zone + " is UTC. "
	}
	return c
}

// sayBurstCount says how many bursts a pass holds: "18", or "18-19" when that
// hangs on the unknown phase.
func sayBurstCount(p passOf) (string, error) {
	if p.schedule.Period == 0 {
		return "", nil
	}
	least, most, err := p.countBursts()
	switch {
	case err != nil:
		return "", err
	case least == most:
		return fmt.Sprint(least), nil
	}
	return fmt.Sprintf("%d-%d", least, most), nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const (
	// burstSearch is how far ahead the next pass is looked for.
	burstSearch = 3 * day
	// alwaysUpSpan is the time that is listed of an object that never sets.
	alwaysUpSpan = time.Hour
)

func newBurstsCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	lowest := value[float64]{parse: parseElevation, kind: "DEG"}
	cmd := &cobra.Command{
		Use:   "bursts [SAT]",
		Short: "list the bursts to expect in a pass, and where from",
		Long: `List the bursts of the pass under way, or else of the next one: when each starts
and where the antenna should point then. When no burst's time is known
(--first), say how long the wait for one can be. A pass that only grazes the
horizon, with no burst to expect, is left out without --min-elevation.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := sys.prepare(cmd, o, args)
			if err != nil {
				return err
			}
			from, err := o.passFrom(t.now)
			if err != nil {
				return err
			}
			return sys.bursts(cmd.Context(), t, o, from, lowest)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	o.addNextPass(f)
	f.Var(&lowest, "min-elevation", "only while it is above this elevation (0 without it)")
	o.addSkyline(f)
	o.addFrequency(f)
	o.addBeacon(f)
	o.addJSON(f)
	return cmd
}

// addNextPass adds the flags that say from when on the next pass is looked for.
func (o *options) addNextPass(f *pflag.FlagSet) {
	o.addAt(f, "the pass under way or next at this time (now without it)")
	o.addSpan(f, "the same as --at", "look for a pass this far ahead (3d without it)")
}

// passFrom is when the pass is under way or next.
func (o *options) passFrom(now time.Time) (time.Time, error) {
	switch {
	case len(o.at.all) > 1, o.from.given && len(o.at.all) > 0:
		return now, wrong("", "one time is enough: --at or --from, once")
	case len(o.at.all) == 1:
		return o.at.all[0], nil
	}
	return o.from.or(now), nil
}

func (sys system) bursts(ctx context.Context, t task, o *options, from time.Time, lowest value[float64]) error {
	s := t.satellites[0]
	if s.schedule.Period == 0 {
		return noPeriod(s)
	}
	sys.warnOfAge(s, from)
	pass, err := nextPass(ctx, t, from, o.span, lowest)
	if err != nil {
		return err
	}
	bursts, err := beacon.InPass(s.orbit, t.site, pass.Pass, s.schedule, s.frequencyHz)
	if errors.Is(err, beacon.ErrPhaseUnknown) {
		err = nil
	}
	if err != nil {
		return failed("", "%w", err)
	}
	if pass.delay, err = t.delayOf(ctx, pass, lowest.value); err != nil {
		return err
	}
	if o.json {
		return printBurstsJSON(sys, t.site, pass, bursts)
	}
	return sys.printBursts(t, from, pass, bursts)
}

// nextPass finds the pass under way or else the next one. Of an object that
// never sets it is the time asked for. Passes that only graze the horizon are
// left out, where there are others and nobody said how low is low enough.
func nextPass(ctx context.Context, t task, from time.Time, span value[time.Duration], lowest value[float64]) (passOf, error) {
	ahead := span.or(burstSearch)
	passes, err := findPasses(ctx, t, from, from.Add(ahead), lowest.value)
	if err != nil {
		return passOf{}, err
	}
	passes = slices.DeleteFunc(passes, func(p passOf) bool { return !p.AlwaysUp && !p.Set.Time.After(from) })
	if len(passes) == 0 {
		return passOf{}, failed("look further ahead with --for 10d, or from another site",
			"%s: no pass within %s of %s", name(t.satellites[0].orbit.Elements()), sayDuration(ahead), from.UTC().Format(time.RFC3339))
	}
	next := passes[0]
	if next.AlwaysUp && !span.given {
		return nextPass(ctx, t, from, value[time.Duration]{value: alwaysUpSpan, given: true}, lowest)
	}
	if !lowest.given {
		for _, p := range passes {
			if !aim.Grazing(p.Pass, p.schedule, from) {
				return p, nil
			}
		}
	}
	return next, nil
}

type burstJSON struct {
	Number int `json:"number"`
	lookJSON
	RangeRateKmS *float64 `json:"range_rate_km_s,omitempty"`
	UncertaintyS *float64 `json:"uncertainty_s,omitempty"`
	ReceiveHz    *float64 `json:"receive_hz,omitempty"`
	Hidden       bool     `json:"hidden,omitempty"` // behind the skyline
}

type burstsAnswer struct {
	Pass         passAnswer  `json:"pass"`
	Bursts       []burstJSON `json:"bursts"`
	LongestWaitS *float64    `json:"longest_wait_s,omitempty"`
}

func printBurstsJSON(sys system, site track.Site, pass passOf, bursts []beacon.Expected) error {
	p, err := newPassAnswer(site, pass)
	if err != nil {
		return err
	}
	answer := burstsAnswer{Pass: p, Bursts: make([]burstJSON, 0, len(bursts))}
	for _, b := range bursts {
		row := burstJSON{Number: b.Number, lookJSON: newLookJSON(b.Look), RangeRateKmS: number(b.Look.RangeRateKmS, rateDecimals),
			Hidden: pass.IsHidden(b.Time)}
		if b.UncertaintyS > 0 {
			row.UncertaintyS = number(b.UncertaintyS, 3)
		}
		if b.ReceiveHz > 0 {
			row.ReceiveHz = number(b.ReceiveHz, hzDecimals)
		}
		answer.Bursts = append(answer.Bursts, row)
	}
	if !pass.schedule.Known() {
		answer.LongestWaitS = number(pass.schedule.LongestWait().Seconds(), 3)
	}
	return printJSON(sys.stdout, answer)
}

func (sys system) printBursts(t task, from time.Time, pass passOf, bursts []beacon.Expected) error {
	set := pass.orbit.Elements()
	compass := newCompass(t.site, pass.Rise.Time)
	text := item("", title(set)+" over "+sayPlace(t.site)) + sys.sayLikely(pass.satellite, from) + "\n"
	if pass.AlwaysUp {
		text += "It is always up here.\n"
	} else {
		text += sys.sayPass(t.site, pass) + "\n" + pass.delay.sentence()
	}
	if !pass.schedule.Known() {
		count, err := sayBurstCount(pass)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(sys.stdout, `%s
The times of the bursts are unknown until the start of one is given (--first).
Expect %s bursts; the wait for one is %s at most, so hold that long.
`, text, count, sayDuration(pass.schedule.LongestWait()))
		return err
	}
	times := make([]time.Time, len(bursts))
	for i, b := range bursts {
		times[i] = b.Time
	}
	day, sayTime := sys.clockColumn(times)
	rows := newTable(">burst", day, "UTC", ">true", ">magnetic", ">elevation", ">range km", ">receive MHz", "time", "in sight")
	rows.spare = []string{">range km", "UTC"}
	for _, b := range bursts {
		receive, uncertainty, hidden := "", "", ""
		if pass.IsHidden(b.Time) {
			hidden = "hidden"
		}
		if b.ReceiveHz > 0 {
			receive = sayMHz(b.ReceiveHz)
		}
		if b.UncertaintyS > 0 {
			uncertainty = fmt.Sprintf("±%.1f s", b.UncertaintyS)
		}
		rows.add(fmt.Sprint(b.Number), sayTime(b.Time), sys.utcBeside(b.Time), sayTrue(b.Look.AzimuthDeg),
			compass.sayMagnetic(b.Look.AzimuthDeg), sayElevation(b.Look.ElevationDeg), fmt.Sprintf("%.0f", b.Look.RangeKm), receive, uncertainty, hidden)
	}
	if len(bursts) == 0 {
		_, err := fmt.Fprintf(sys.stdout, "%s\nNo burst starts in this pass. The next one that is higher: --min-elevation 10\n", text)
		return err
	}
	_, err := fmt.Fprintf(sys.stdout, "%s\n%s\n%s\n", text, rows, compass.note)
	return err
}

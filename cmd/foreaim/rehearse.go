package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track/aim/rehearse"
	"foreaim/track/radio"

	"github.com/spf13/cobra"
)

const (
	// rehearseSpan is how far ahead passes to play are looked for.
	rehearseSpan = 3 * day
	// rehearseLowestDeg is below what nothing is heard (common practice, no
	// source).
	rehearseLowestDeg = 5
	// rehearseBursts is how many periods a pass must last to be played.
	rehearseBursts = 2
)

func newRehearseCommand(sys system) *cobra.Command {
	o, e := newOptions(sys), newErrorFlags()
	r := rehearsal{options: o, errors: e,
		lowest: value[float64]{parse: parseElevation, kind: "DEG"}, tuningHz: numberFlag("HZ", 0, 1e6),
		passes: wholeFlag(1, 1_000_000), seed: wholeFlag(0, math.MaxUint64)}
	cmd := &cobra.Command{
		Use:   "rehearse [SAT]",
		Short: "play many passes to see what each way of aiming is worth",
		Long: `Play passes with random errors, the same for each way of aiming, and count the
bursts that are heard:

  follow  points where the satellite was 12 s before the burst
  lead    points where it is predicted to be at the burst
  learn   leads too, and learns from every burst heard or missed
  known   knows the satellite's and the operator's errors

The passes are those of SAT over the site, in turn, each with errors of its own.
Without SAT and --elements they are invented: a satellite at 525 km that peaks
between 20° and 85°. The same seed gives the same passes. The errors that are
given are standard deviations. What the twist between two linear antennas takes
off is not played. When it is interrupted it tells what was played until then.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, title, err := sys.rehearsal(cmd, r, args)
			if err != nil {
				return err
			}
			return sys.rehearse(cmd.Context(), s, title, o.json)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	o.addSpan(f, "play the passes from this time on (now without it)", "play the passes of this long (3d without it)")
	f.Var(&r.lowest, "min-elevation", "nothing is heard below this elevation (5 without it)")
	f.Var(&r.passes, "passes", "play so many passes (400 without it)")
	f.Var(&r.seed, "seed", "draw the errors from this number (1 without it)")
	f.Var(&o.period, "period", "the beacon sends a burst every so often (30s without it)")
	e.add(f, "120s", "0")
	f.BoolVar(&r.phaseUnknown, "unknown-phase", false, "when the bursts come is not known before one is heard")
	f.BoolVar(&r.strengths, "strengths", false, "bursts are marked as weak, good or strong")
	o.addFrequency(f)
	f.Var(&r.tuningHz, "frequency-error", "the frequency of bursts is measured, to about this (not measured without it)")
	o.addJSON(f)
	return cmd
}

// rehearsal is what the flags say.
type rehearsal struct {
	options                 *options
	errors                  *errorFlags
	lowest                  value[float64]
	tuningHz                value[float64]
	passes, seed            value[uint64]
	phaseUnknown, strengths bool
}

// rehearsal returns what is to be played, and what to call it.
func (sys system) rehearsal(cmd *cobra.Command, r rehearsal, args []string) (s rehearse.Settings, title string, err error) {
	o := r.options
	invented := len(args) == 0 && len(o.elements) == 0
	var t task
	if invented {
		t.config, err = sys.configFor(cmd)
	} else {
		t, err = sys.prepare(cmd, o, args)
	}
	if err != nil {
		return s, "", err
	}
	var promise *radio.Expected
	if !invented {
		if promise, err = r.errors.promised(t.config, t.satellites[0]); err != nil {
			return s, "", err
		}
	}
	s = r.errors.settings(t.config, promise)
	s.Passes, s.Seed = int(r.passes.or(uint64(s.Passes))), r.seed.or(1)
	s.PhaseUnknown, s.Strengths = r.phaseUnknown, r.strengths
	s.Period, s.FrequencyHz = o.period.or(s.Period), o.frequencyHz.value
	s.MinElevationDeg = r.lowest.or(rehearseLowestDeg)
	title = "invented passes"
	if invented && r.lowest.given {
		return s, "", wrong("name a satellite, or leave the flag out", "invented passes begin at %v°", rehearseLowestDeg)
	}
	if !invented {
		if title, err = sys.playOver(cmd.Context(), t, o, &s); err != nil {
			return s, "", err
		}
	}
	switch {
	case !r.tuningHz.given:
		s.FrequencyHz = 0 // nobody measures
	case s.FrequencyHz == 0:
		return s, "", wrong("add --frequency 437.1M", "a measured frequency says nothing without that of the beacon")
	}
	s.FrequencyErrorHz = r.tuningHz.value
	if err := s.Check(); err != nil {
		return s, "", wrong("", "%w", err)
	}
	return s, title, nil
}

// playOver puts the satellite and its passes into the settings, and returns what
// to call them.
func (sys system) playOver(ctx context.Context, t task, o *options, s *rehearse.Settings) (title string, err error) {
	object := t.satellites[0]
	if own := object.schedule.Period; own > 0 {
		s.Period = own
	}
	s.Orbit, s.Site, s.FrequencyHz = object.orbit, t.site, object.frequencyHz
	from, span := o.from.or(t.now), o.span.or(rehearseSpan)
	passes, err := findPasses(ctx, t, from, from.Add(span), s.MinElevationDeg)
	if err != nil {
		return "", err
	}
	for _, p := range passes {
		if !p.AlwaysUp && p.Duration() >= rehearseBursts*s.Period {
			s.Over = append(s.Over, p.Pass)
		}
	}
	set := object.orbit.Elements()
	if len(s.Over) == 0 {
		return "", failed("look further ahead with --for 10d, or from another site",
			"%s: no pass of %s and more above %v° within %s of %s", name(set), sayDuration(rehearseBursts*s.Period), s.MinElevationDeg, sayDuration(span), from.UTC().Format(time.RFC3339))
	}
	sys.warnOfAge(object, from)
	return fmt.Sprintf("passes of %s over %s", name(set), sayPlace(t.site)), nil
}

// rehearse plays, and tells what came of it.
func (sys system) rehearse(ctx context.Context, s rehearse.Settings, title string, asJSON bool) error {
	line, played := sys.newProgress(), 0
	result, err := rehearse.Run(ctx, s, func(done int) {
		played = done
		line.tell(fmt.Sprintf("%d of %d passes", done, s.Passes))
	})
	line.clear()
	stopped := errors.Is(err, context.Canceled)
	switch {
	case err != nil && !stopped:
		return failed("", "%w", err)
	case played == 0:
		return err
	}
	tell := func() error { return sys.printRehearsal(s, title, played, result) }
	if asJSON {
		tell = func() error { return printJSON(sys.stdout, newRehearsalAnswer(s, played, result)) }
	}
	if failure := tell(); failure != nil {
		return failure
	}
	return err // of the interruption
}

// printRehearsal prints for people.
func (sys system) printRehearsal(s rehearse.Settings, title string, played int, result rehearse.Result) error {
	count := fmt.Sprint(played)
	if played < s.Passes {
		count = fmt.Sprintf("%d of %d", played, s.Passes)
	}
	rows := newTable("way", ">bursts heard", ">passes with any")
	for _, way := range rehearse.Ways() {
		score := result[way]
		rows.add(string(way), fmt.Sprintf("%.1f %%", 100*score.HeardShare), fmt.Sprintf("%.1f %%", 100*score.AnyShare))
	}
	_, err := fmt.Fprintf(sys.stdout, "%s%s\n%s", item("", fmt.Sprintf("%s %s, seed %d", count, title, s.Seed)), saySettings(s), rows)
	return err
}

// saySettings says what was played.
func saySettings(s rehearse.Settings) string {
	errors := fmt.Sprintf("Errors: time %v s, north %v°, hand %v°, fading %v dB", s.TimeErrorS, s.HeadingErrorDeg, s.AimErrorDeg, s.FadingDB)
	if s.MarginErrorDB > 0 {
		errors += fmt.Sprintf(", margin %v dB", s.MarginErrorDB)
	}
	text := fmt.Sprintf("Margin %v dB at 1000 km, beam %v°, a burst every %s", s.MarginDB, s.BeamwidthDeg, sayDuration(s.Period))
	if s.PhaseUnknown {
		text += ", at unknown times"
	}
	if s.Strengths {
		text += ", strengths marked"
	}
	if s.FrequencyHz > 0 {
		text += fmt.Sprintf(", frequency measured to %v Hz", s.FrequencyErrorHz)
	}
	return item("", errors+".") + item("", text+".")
}

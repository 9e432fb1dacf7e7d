package main

import (
	"context"
	"errors"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

// outlook is one pass to come and what may be heard in it.
type outlook struct {
	prior   aim.Prior
	objects []elements.Set // of the prior's objects
	begin   time.Time      // when the first advice is asked for
}

// outlook finds the pass under way or next of a satellite, or that of all
// objects of a group around it, and what is believed before it.
func (sys system) outlook(cmd *cobra.Command, o *options, e *errorFlags, group string, lowest value[float64], args []string) (l outlook, err error) {
	t, members, err := sys.prepareGroup(cmd, o, group, args)
	if err != nil {
		return l, err
	}
	reference := t.satellites[0]
	if reference.schedule.Period == 0 {
		return l, noPeriod(reference)
	}
	from := o.from.or(t.now)
	pass, err := nextPass(cmd.Context(), t, from, o.span, lowest)
	if err != nil {
		return l, err
	}
	promise, err := e.promised(t.config, reference)
	if err != nil {
		return l, err
	}
	l.prior = e.prior(t.config, promise)
	l.prior.Site, l.prior.MinElevationDeg = t.site, lowest.value
	l.prior.Schedule, l.prior.FrequencyHz = reference.schedule, reference.frequencyHz
	l.prior.From, l.prior.To = pass.Rise.Time, pass.Set.Time
	all, err := alongPass(cmd.Context(), t, pass, members, lowest.value, o)
	if err != nil {
		return l, err
	}
	early := 0.0
	for _, p := range all {
		object := e.object(p.satellite, p.Peak.Time)
		early = max(early, 3*object.TimeSigmaS)
		l.prior.Objects = append(l.prior.Objects, object)
		l.objects = append(l.objects, p.orbit.Elements())
		l.prior.From = earlierOf(l.prior.From, p.Rise.Time)
		l.prior.To = laterOf(l.prior.To, p.Set.Time)
	}
	if !e.time.given {
		sys.warnOfAge(reference, from)
	}
	l.begin = laterOf(from, l.prior.From.Add(-time.Duration(early*float64(time.Second))))
	return l, nil
}

// prepareGroup is prepare for one satellite or, where a group is named, for its
// reference; the group's members come beside it.
func (sys system) prepareGroup(cmd *cobra.Command, o *options, prefix string, args []string) (t task, members []elements.Set, err error) {
	if prefix == "" {
		t, err = sys.prepare(cmd, o, args)
		return t, nil, err
	}
	if t.config, err = sys.configFor(cmd); err != nil {
		return t, nil, err
	}
	sat := ""
	if len(args) > 0 {
		sat = args[0]
	}
	g, err := sys.readGroup(o, t.config, []string{prefix}, sat)
	if err != nil {
		return t, nil, err
	}
	t.satellites = []satellite{g.reference}
	t.place, err = sys.findPlace(cmd.Context(), o, t.config)
	return t, g.members, err
}

// alongPass returns a pass and those of the members of a group around it.
func alongPass(ctx context.Context, t task, pass passOf, group []elements.Set, lowestDeg float64, o *options) ([]passOf, error) {
	all := []passOf{pass}
	if len(group) == 0 {
		return all, nil
	}
	members, err := track.AlongPass(ctx, pass.orbit, pass.Pass, group, t.site, t.horizon(lowestDeg))
	switch {
	case errors.Is(err, track.ErrNoRise):
		return nil, failed("name another object of the group as SAT", "%w", err)
	case err != nil:
		return nil, err
	}
	for _, m := range members {
		if m.Pass == nil {
			continue // not in sight, or not to be computed: it can't be what is heard
		}
		s, err := newSatellite(m.Set, o, t.config)
		if err != nil {
			return nil, err
		}
		all = append(all, passOf{satellite: s, Pass: *m.Pass})
	}
	return all, nil
}

// object is what is believed of a satellite before a pass.
func (e *errorFlags) object(s satellite, at time.Time) aim.Object {
	sigma := min(s.likely(at).SigmaS, longestTimeError.Seconds())
	if e.time.given {
		sigma = e.time.value.Seconds()
	}
	return aim.Object{Name: name(s.orbit.Elements()), Orbit: s.orbit, TimeSigmaS: sigma}
}

func noPeriod(s satellite) error {
	return wrong("add --period 30s, or period to [[satellite]] in the configuration",
		"%s: how often it sends a burst is unknown", name(s.orbit.Elements()))
}

func earlierOf(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func laterOf(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

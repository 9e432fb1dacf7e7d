package main

import (
	"context"
	"fmt"
	"math"
	"time"

	"foreaim/gps"
	"foreaim/track"
)

// showFixes prints each new fix until the time is over, the replay has ended or
// the user interrupts.
func (sys system) showFixes(parent context.Context, o *options, source, sensor string) error {
	ctx, cancel := parent, context.CancelFunc(func() {})
	if o.span.given {
		ctx, cancel = context.WithTimeout(parent, o.span.value)
	}
	defer cancel()
	receiver, err := openJoined(ctx, source, sensor, gps.Options{Now: sys.now})
	if err != nil {
		return err
	}
	defer receiver.Close()
	show := fixes{sys: sys, json: o.json}
	problem, sensorProblem := "", ""
	for {
		select {
		case <-ctx.Done():
			return show.end(parent.Err(), source, problem)
		case <-show.complete:
			if err := show.flush(); err != nil {
				return err
			}
		case r, open := <-receiver.Reports():
			if !open {
				return show.end(nil, source, problem)
			}
			if r.Problem != problem && r.Problem != "" {
				sys.note("%s", r.Problem)
			}
			problem = r.Problem
			if r.Sensor.Problem != sensorProblem && r.Sensor.Problem != "" {
				sys.note("the sensor: %s", r.Sensor.Problem)
			}
			sensorProblem = r.Sensor.Problem
			if r.Fix.Valid() {
				if err := show.take(r); err != nil {
					return err
				}
			}
			if r.State == gps.Ended || r.Fix.Quality == "fixed" {
				return show.end(nil, source, problem)
			}
		}
	}
}

// fixes shows each fix once, when it is complete: a receiver spreads one fix
// over several sentences.
type fixes struct {
	sys  system
	json bool

	pending  *gps.Report      // not shown yet
	complete <-chan time.Time // when it will be
	last     gps.Fix          // shown
	any      bool
}

// fixQuiet is the silence that ends a fix.
const fixQuiet = 300 * time.Millisecond

// sameFix tells whether two fixes are of the same moment.
func sameFix(a, b gps.Fix) bool {
	if a.Time.IsZero() || b.Time.IsZero() {
		return a.Received.Equal(b.Received)
	}
	return a.Time.Equal(b.Time)
}

func (f *fixes) take(r gps.Report) error {
	if f.any && sameFix(f.last, r.Fix) {
		return nil
	}
	if f.pending != nil && !sameFix(f.pending.Fix, r.Fix) {
		if err := f.flush(); err != nil {
			return err
		}
	}
	f.pending, f.complete = &r, time.After(fixQuiet)
	return nil
}

func (f *fixes) flush() error {
	if f.pending == nil {
		return nil
	}
	r := *f.pending
	f.pending, f.complete, f.last, f.any = nil, nil, r.Fix, true
	return f.sys.showFix(f.json, r)
}

// end shows what is left and tells how listening ended.
func (f *fixes) end(interrupted error, source, problem string) error {
	if err := f.flush(); err != nil {
		return err
	}
	return fixesEnd(interrupted, source, f.any, problem)
}

// fixesEnd is how listening ended.
func fixesEnd(interrupted error, source string, anyFix bool, problem string) error {
	switch {
	case interrupted != nil:
		return interrupted
	case anyFix:
		return nil
	case problem != "":
		problem = ": " + problem
	}
	hint := "a receiver needs a free view of the sky, and minutes after a cold start"
	if isRecording(source) {
		hint = "the file should hold NMEA sentences with a place, as GGA or RMC"
	}
	return failed(hint, "no fix from %s%s", source, problem)
}

func (sys system) showFix(asJSON bool, r gps.Report) error {
	if asJSON {
		return printJSONLine(sys.stdout, newFixAnswer(r))
	}
	fix := r.Fix
	at := fix.Time
	if at.IsZero() {
		at = fix.Received
	}
	site := track.Site{LatitudeDeg: fix.LatitudeDeg, LongitudeDeg: fix.LongitudeDeg, HeightM: fix.AltitudeM}
	text := fmt.Sprintf("%s  %s  %s", sys.bothTimes(at), sayPlace(site), fix.Quality)
	if fix.SatellitesUsed > 0 {
		text += fmt.Sprintf(", %d satellites", fix.SatellitesUsed)
	}
	if fix.HDOP > 0 {
		text += fmt.Sprintf(", HDOP %.1f", fix.HDOP)
	}
	if r.Clock.Known {
		text += "  " + sayClock(r.Clock)
	}
	if h := r.Heading; h.Fresh(fix.Received) {
		text += "  " + sayHeading(*h)
	}
	_, err := fmt.Fprintln(sys.stdout, text)
	return err
}

// sayHeading says where a sensor points.
func sayHeading(h gps.Heading) string {
	text := "sensor"
	if h.TrueKnown {
		text += " " + sayTrue(h.TrueDeg) + " true"
	}
	if h.MagneticKnown {
		text += " " + sayTrue(h.MagneticDeg) + " magnetic"
	}
	if h.PitchKnown {
		text += fmt.Sprintf(" pitch %+.1f°", h.PitchDeg)
	}
	if h.RollKnown {
		text += fmt.Sprintf(" roll %+.1f°", h.RollDeg)
	}
	return text
}

// sayClock says how wrong the computer's clock is.
func sayClock(c gps.Clock) string {
	direction := "slow"
	if c.OffsetS < 0 {
		direction = "fast"
	}
	return fmt.Sprintf("this computer's clock is %.2f s %s (±%.2f s)", math.Abs(c.OffsetS), direction, c.UncertaintyS)
}

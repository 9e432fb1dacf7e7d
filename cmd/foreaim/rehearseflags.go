package main

import (
	"math"
	"strconv"
	"strings"
	"time"

	"foreaim/track/aim"
	"foreaim/track/aim/rehearse"
	"foreaim/track/radio"

	"github.com/spf13/pflag"
)

// errorFlags are how large the errors of a pass are believed to be, and the
// antenna: what advise, match and rehearse start from.
type errorFlags struct {
	time       value[time.Duration]
	headingDeg value[float64]
	hearingFlags
}

func newErrorFlags() *errorFlags {
	return &errorFlags{
		time:         value[time.Duration]{parse: parseTimeError, kind: "DURATION"},
		headingDeg:   numberFlag("DEG", 0, 180),
		hearingFlags: newHearingFlags(),
	}
}

// promisedOr leads what holds of a signal where the configuration says too little.
const promisedOr = "what your [[satellite]] and [[chain]] promise, or "

// add adds the flags; usual says what holds without --time-error, and doubt
// without --margin-error.
func (e *errorFlags) add(f *pflag.FlagSet, usual, doubt string) {
	f.Var(&e.time, "time-error", "the satellite is late or early by about this ("+usual+" without it)")
	f.Var(&e.headingDeg, "heading-error", "your north is wrong by about this (20 without it)")
	e.hearingFlags.add(f, promisedOr+"6", promisedOr+doubt)
}

// hearingFlags are what decides, beside the direction, whether a burst is heard.
type hearingFlags struct {
	marginDB, marginErrorDB     value[float64]
	widthDeg, handDeg, fadingDB value[float64]
}

func newHearingFlags() hearingFlags {
	return hearingFlags{
		marginDB:      numberFlag("DB", -60, 100),
		marginErrorDB: numberFlag("DB", 0, 40),
		widthDeg:      numberFlag("DEG", 1, 180),
		handDeg:       numberFlag("DEG", 0, 90),
		fadingDB:      numberFlag("DB", 0, 40),
	}
}

// add adds the flags; usual says what holds without --margin, and doubt without
// --margin-error.
func (e *hearingFlags) add(f *pflag.FlagSet, usual, doubt string) {
	f.Var(&e.marginDB, "margin", "the signal against the threshold of hearing, at 1000 km and mid-beam ("+usual+" without it)")
	f.Var(&e.marginErrorDB, "margin-error", "the margin is wrong by about this ("+doubt+" without it)")
	f.Var(&e.widthDeg, "beamwidth", "the antenna's, between the half-power points (that of the configuration, or 50)")
	f.Var(&e.handDeg, "aim-error", "your hand is off by about this in each hold (8 without it)")
	f.Var(&e.fadingDB, "fading", "the signal goes up and down by about this (5 without it)")
}

// promised is what the configuration's link to a satellite promises, unless
// --margin says it; nil where nobody says.
func (e *errorFlags) promised(c config, s satellite) (*radio.Expected, error) {
	if e.marginDB.given {
		return nil, nil
	}
	f := newLinkFlags()
	f.beamwidthDeg = e.widthDeg
	return c.promised(s, f)
}

// settings are the usual ones with what a link promises (nil: nothing) and those
// that were given.
func (e *errorFlags) settings(c config, promise *radio.Expected) rehearse.Settings {
	s := rehearse.Default()
	if own := c.beamwidth.narrower(); own > 0 {
		s.BeamwidthDeg = own
	}
	if promise != nil {
		s.MarginDB, s.MarginErrorDB = math.Round(10*promise.MarginDB)/10, math.Round(10*promise.SigmaDB)/10
	}
	s.TimeErrorS = e.time.or(time.Duration(s.TimeErrorS * float64(time.Second))).Seconds()
	s.HeadingErrorDeg = e.headingDeg.or(s.HeadingErrorDeg)
	s.MarginDB = e.marginDB.or(s.MarginDB)
	s.MarginErrorDB = e.marginErrorDB.or(s.MarginErrorDB)
	s.BeamwidthDeg = e.widthDeg.or(s.BeamwidthDeg)
	s.AimErrorDeg = e.handDeg.or(s.AimErrorDeg)
	s.FadingDB = e.fadingDB.or(s.FadingDB)
	return s
}

// prior is what is believed of the operator and the signal, of which a link
// promises something (nil: nothing).
func (e *errorFlags) prior(c config, promise *radio.Expected) aim.Prior {
	s := e.settings(c, promise)
	p := aim.Prior{
		HeadingSigmaDeg: s.HeadingErrorDeg,
		MarginDB:        s.MarginDB, MarginSigmaDB: s.MarginErrorDB,
		BeamwidthDeg: s.BeamwidthDeg, HandDeg: s.AimErrorDeg, FadingDB: s.FadingDB,
		TwistUnknown: promise != nil && promise.TwistUnknown,
	}
	if e.marginErrorDB.given {
		p.MarginSigmaDB = told(e.marginErrorDB)
	}
	return p
}

// told is a number for what takes 0 as nothing told: a 0 that was told is next to
// nothing.
func told(v value[float64]) float64 {
	const nextToNothing = 0.01 // degrees or dB
	if !v.given {
		return 0
	}
	return max(v.value, nextToNothing)
}

// longestTimeError is the largest time error that is told apart: a third of a
// revolution.
const longestTimeError = 30 * time.Minute

// parseTimeError reads a standard deviation of the time along the track.
func parseTimeError(text string) (time.Duration, error) {
	d, err := time.ParseDuration(strings.TrimSpace(text))
	switch {
	case err != nil:
		return 0, wrong("time errors look like 120s or 2m, without a space", "%q is not a duration", text)
	case d < 0 || d > longestTimeError:
		return 0, wrong("", "%q is not within 0s to %v", text, longestTimeError)
	}
	return d, nil
}

// numberFlag is a flag of a number from low to high.
func numberFlag(kind string, low, high float64) value[float64] {
	return value[float64]{kind: kind, parse: func(text string) (float64, error) {
		x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil || !(x >= low && x <= high) {
			return 0, wrong("", "%q is not a number from %v to %v", text, low, high)
		}
		return x, nil
	}}
}

// wholeFlag is a flag of a whole number from low to high.
func wholeFlag(low, high uint64) value[uint64] {
	return value[uint64]{kind: "N", parse: func(text string) (uint64, error) {
		n, err := strconv.ParseUint(strings.TrimSpace(text), 10, 64)
		if err != nil || n < low || n > high {
			return 0, wrong("", "%q is not a whole number from %d to %d", text, low, high)
		}
		return n, nil
	}}
}

package main

import (
	"strconv"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"

	"github.com/spf13/pflag"
)

// value is a flag that is read by a parser of ours and remembers whether it was
// given.
type value[T any] struct {
	parse func(string) (T, error)
	kind  string // for the help

	text  string
	value T
	given bool
}

func (v *value[T]) Set(text string) (err error) {
	v.text, v.given = text, true
	v.value, err = v.parse(text)
	return err
}

func (v *value[T]) String() string { return v.text }
func (v *value[T]) Type() string   { return v.kind }

// or returns the flag's value or, when it wasn't given, another.
func (v *value[T]) or(other T) T {
	if v.given {
		return v.value
	}
	return other
}

// values is a repeatable flag.
type values[T any] struct {
	value[T]
	all []T
}

func (v *values[T]) Set(text string) error {
	err := v.value.Set(text)
	v.all = append(v.all, v.value.value)
	return err
}

// options are the flags that several commands share. Each command adds those
// that it uses.
type options struct {
	elements []string
	site     value[track.Site]
	skyline  string       // a file; empty: none
	ground   *groundFlags // nil: the command asks nothing about the ground

	at   values[time.Time]
	from value[time.Time]
	span value[time.Duration] // --for

	frequencyHz value[float64]
	period      value[time.Duration]
	first       value[time.Time]
	length      value[time.Duration]

	json bool
}

func newOptions(sys system) *options {
	when := func(text string) (time.Time, error) { return parseTime(text, sys.now(), sys.local) }
	return &options{
		site:        value[track.Site]{parse: parseSite, kind: "LAT,LON[,HEIGHT_M]"},
		at:          values[time.Time]{value: value[time.Time]{parse: when, kind: "TIME"}},
		from:        value[time.Time]{parse: when, kind: "TIME"},
		span:        value[time.Duration]{parse: parseDuration, kind: "DURATION"},
		frequencyHz: value[float64]{parse: parseFrequency, kind: "HZ"},
		period:      value[time.Duration]{parse: parsePeriod, kind: "DURATION"},
		first:       value[time.Time]{parse: when, kind: "TIME"},
		length:      value[time.Duration]{parse: parseDuration, kind: "DURATION"},
	}
}

func (o *options) addElements(f *pflag.FlagSet) {
	f.StringArrayVar(&o.elements, "elements", nil, "read orbital elements from the file or folder `PATH` (repeatable)")
}

func (o *options) addSite(f *pflag.FlagSet) {
	f.Var(&o.site, "site", "stand here: degrees, metres above the ellipsoid, or a locator such as KN00aa")
}

func (o *options) addAt(f *pflag.FlagSet, usage string) { f.Var(&o.at, "at", usage) }

func (o *options) addSpan(f *pflag.FlagSet, from, span string) {
	f.Var(&o.from, "from", from)
	f.Var(&o.span, "for", span)
}

func (o *options) addFrequency(f *pflag.FlagSet) {
	f.Var(&o.frequencyHz, "frequency", "the beacon sends on this, as 437.1M or in Hz")
}

func (o *options) addBeacon(f *pflag.FlagSet) {
	f.Var(&o.period, "period", "the beacon sends a burst every so often, as 30s")
	f.Var(&o.first, "first", "one of the bursts began at this time")
	f.Var(&o.length, "length", "a burst lasts this long")
}

func (o *options) addJSON(f *pflag.FlagSet) {
	f.BoolVar(&o.json, "json", false, "print JSON for programs")
}

// parseSite reads a site of the command line.
func parseSite(text string) (track.Site, error) {
	site, err := track.ParseSite(text)
	if err != nil {
		return site, wrong("a site looks like 54.31,-9.87 or 54.31,-9.87,40 (north, east, metres) or like the locator IO54bh", "%w", err)
	}
	return site, nil
}

// parsePeriod reads the time from burst to burst.
func parsePeriod(text string) (time.Duration, error) {
	d, err := parseDuration(text)
	if err == nil && (d < beacon.MinPeriod || d > beacon.MaxPeriod) {
		err = wrong("", "%q is not within %s to %s", text, sayDuration(beacon.MinPeriod), sayDuration(beacon.MaxPeriod))
	}
	return d, err
}

// parseElevation reads degrees above the horizon.
func parseElevation(text string) (float64, error) {
	deg, err := strconv.ParseFloat(text, 64)
	if err != nil || !(deg >= 0 && deg < 90) {
		return 0, wrong("a lowest elevation looks like 10", "%q is not 0 to below 90 degrees", text)
	}
	return deg, nil
}

package main

import (
	"strings"
	"testing"
	"time"

	"foreaim/track/elements"
)

// Elements are warned of by what they make of the object, not by their age
// alone: drag makes a low orbit's bad in days, a high one's stay good for weeks.
func TestAgeWarning(t *testing.T) {
	at := mustTime(testNow)
	low := elements.Set{
		Name: "EMBERLING", CatalogueNumber: 99071, MeanMotionRevPerDay: 15.18402917, Eccentricity: 0.0011042,
		InclinationDeg: 97.4512, BStar: 0.00021037,
	}
	high := low
	high.MeanMotionRevPerDay, high.BStar = 2, 0
	of := func(set elements.Set, age time.Duration, history ...elements.Set) satellite {
		set.Epoch = at.Add(-age)
		s, err := newSatellite(set, newOptions(testSystem(system{})), config{})
		if err != nil {
			t.Fatal(err)
		}
		s.history = history
		return s
	}
	// A set of the day before that is a sixteenth of a revolution off.
	wrong := low
	wrong.Epoch = at.Add(-2 * day)
	wrong.AnomalyDeg = low.AnomalyDeg - 66.25 - 22.5
	for name, c := range map[string]struct {
		satellite
		says string // "" : nothing
	}{
		"fresh":           {of(low, day), ""},
		"old and low":     {of(low, 20*day), "are 20.0 days old at that time"},
		"old and high":    {of(high, 12*day), ""},
		"of after":        {of(low, -20*day), "are from 20.0 days after that time"},
		"bad history":     {of(low, day, wrong), "are 1.0 days old at that time: it may well be"},
		"older than that": {of(low, 1500*day), " h late or early"},
	} {
		got := c.ageWarning(at)
		if (c.says == "") != (got == "") || !strings.Contains(got, c.says) {
			t.Errorf("%s: %q, want %q in it", name, got, c.says)
		}
	}
}

func TestSayOffAndLate(t *testing.T) {
	for deg, want := range map[float64]string{0: "", 0.01: "<0.1°", 0.26: "0.3°", 9.96: "10°", 120.4: "120°"} {
		if got := sayOff(deg); got != want {
			t.Errorf("%v: %q, want %q", deg, got, want)
		}
	}
	for s, want := range map[float64]string{0.31: "0.3 s", 9.96: "10 s", 119.4: "119 s", 119.6: "2 min", 7300: "2 h"} {
		if got := sayLate(s); got != want {
			t.Errorf("%v: %q, want %q", s, got, want)
		}
	}
}

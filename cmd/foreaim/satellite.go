package main

import (
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/elements"
)

// satellite is the object that a command is about: its orbit, and what the
// configuration and the flags say about its beacon.
type satellite struct {
	orbit       *track.Orbit
	frequencyHz float64         // 0 when unknown
	schedule    beacon.Schedule // Period 0 when unknown
	history     []elements.Set  // every set there is of this object
}

// newSatellite joins elements, configuration and flags; flags override.
func newSatellite(set elements.Set, o *options, c config) (satellite, error) {
	orbit, err := track.NewOrbit(set)
	if err != nil {
		return satellite{}, wrong("", "%s%w", placeOfSet(set), err)
	}
	known, _ := c.entry(set.Name, set.CatalogueNumber)
	s := satellite{
		orbit:       orbit,
		frequencyHz: o.frequencyHz.or(known.frequencyHz),
		schedule: beacon.Schedule{
			Period:    o.period.or(known.period),
			First:     o.first.or(known.first),
			Length:    o.length.or(known.length),
			Tolerance: known.tolerance,
		},
	}
	if s.schedule.Period == 0 {
		if o.first.given || o.length.given {
			return satellite{}, wrong("add --period, the time from one burst to the next", "%s: the period of the bursts is unknown", name(set))
		}
		s.schedule = beacon.Schedule{}
		return s, nil
	}
	if err := s.schedule.Validate(); err != nil {
		return satellite{}, wrong("", "%s: %w", name(set), err)
	}
	return s, nil
}

// name is what an object is called.
func name(set elements.Set) string {
	if set.Name != "" {
		return plain(set.Name)
	}
	return fmt.Sprint(set.CatalogueNumber)
}

// title is an object's name and number, for people.
func title(set elements.Set) string {
	if set.Name == "" || set.CatalogueNumber == 0 {
		return name(set)
	}
	return fmt.Sprintf("%s (%d)", plain(set.Name), set.CatalogueNumber)
}

// placeOfSet is where a set was read, as the start of a message.
func placeOfSet(set elements.Set) string {
	if set.File == "" {
		return ""
	}
	return fmt.Sprintf("%s:%d: ", set.File, set.Line)
}

// Elements older than this are worth a warning. Common practice, no source: a
// low orbit's drag puts its elements off by kilometres after some days, a high
// one's stay good for weeks.
const (
	oldLow  = 3 * day
	oldHigh = 30 * day
	// lowRevPerDay is the mean motion above which an orbit is low: a period
	// under 128 minutes.
	lowRevPerDay = 11.25
)

// ageWarning says in one line that elements are too far from the time they are
// used for; empty when they are not.
func ageWarning(set elements.Set, t time.Time) string {
	limit := oldHigh
	if set.MeanMotionRevPerDay > lowRevPerDay {
		limit = oldLow
	}
	age := set.Age(t)
	switch {
	case age > limit:
		return fmt.Sprintf("the elements of %s are %s old at that time: directions may be off by degrees, burst times are not; get fresh ones", name(set), sayDays(age))
	case age < -limit:
		return fmt.Sprintf("the elements of %s are from %s after that time: directions may be off by degrees", name(set), sayDays(-age))
	}
	return ""
}

func sayDays(d time.Duration) string { return fmt.Sprintf("%.1f days", d.Hours()/24) }

// sayElements says for people how old the elements are.
func (sys system) sayElements(set elements.Set, t time.Time) string {
	age := set.Age(t)
	if age < 0 {
		return fmt.Sprintf("Elements of %s UTC, %s ahead.", set.Epoch.UTC().Format(time.DateTime), sayDays(-age))
	}
	return fmt.Sprintf("Elements of %s UTC, %s old.", set.Epoch.UTC().Format(time.DateTime), sayDays(age))
}

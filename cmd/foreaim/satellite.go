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

// lateWarnS is the likely time error that is worth a warning: 5 s of a low orbit
// are 38 km, 4° overhead at 500 km, about a tenth of the beam of a hand-held
// antenna. Our own choice.
const lateWarnS = 5

// ageWarning says in one line that elements are too far from the time they are
// used for; empty when they are not.
func (s satellite) ageWarning(t time.Time) string {
	l := s.likely(t)
	if l.SigmaS < lateWarnS {
		return ""
	}
	set := s.orbit.Elements()
	age := sayDays(l.Age) + " old at that time"
	if l.Age < 0 {
		age = "from " + sayDays(-l.Age) + " after that time"
	}
	return fmt.Sprintf("the elements of %s are %s: it may well be %s late or early, degrees away from where it is looked for; get fresh ones", name(set), age, sayLate(l.SigmaS))
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

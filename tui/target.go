package tui

import (
	"context"
	"errors"
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/elements"
	"foreaim/track/north"
)

// object is what the program asks of an orbit; *track.Orbit is one.
type object interface {
	aim.Looker
	aim.LateLooker
	PassesOver(ctx context.Context, site track.Site, from, to time.Time, horizon track.Horizon) ([]track.Pass, error)
	OffDeg(site track.Site, t time.Time, lateS float64) (float64, error)
	Elements() elements.Set
}

// target is a Target with its orbit behind the interface.
type target struct {
	Target
	orbit object
}

func targetsOf(list []Target) []target {
	targets := make([]target, len(list))
	for i, t := range list {
		t.Name = clean(t.Name)
		targets[i] = target{t, t.Orbit}
	}
	return targets
}

// is tells whether it is the satellite of a record: by its catalogue number or,
// where one of the two has none, by its name.
func (t target) is(name string, number int) bool {
	if own := t.orbit.Elements().CatalogueNumber; own != 0 && number != 0 {
		return own == number
	}
	return name != "" && t.Name == name
}

// declination is the magnetic declination at a site, or why there is none.
type declination struct {
	known    bool
	deg      float64 // east positive
	sigmaDeg float64
	note     string // for people, when it isn't known or not to be trusted
}

func declinationAt(site track.Site, t time.Time) declination {
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, t)
	switch {
	case errors.Is(err, north.ErrOutsideYears):
		return declination{note: "no magnetic azimuths: " + north.Model + " covers 2025 to 2029"}
	case err != nil:
		return declination{note: "no magnetic azimuths: " + clean(err.Error())}
	}
	d := declination{known: true, deg: field.DeclinationDeg, sigmaDeg: field.DeclinationUncertaintyDeg}
	if field.Zone != north.Normal {
		d.note = fmt.Sprintf("near the magnetic pole: compass %s zone", field.Zone)
	}
	return d
}

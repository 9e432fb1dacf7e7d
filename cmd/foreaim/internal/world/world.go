// Package world is an invented outing: a meadow, three small satellites, a
// receiver and a laptop whose clock is wrong. It holds the truth that the
// screen of the demonstration is not told: the screen gets element sets, on which
// the satellites are late, what the receiver sends down its line, the laptop's
// clock and the skyline, and not which bursts can be heard and when the noise is
// up.
//
// Everything in it is invented, the orbits too: they are laid so that a good
// pass has just begun whenever the demonstration is started.
package world

import (
	"context"
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/elements"
	"foreaim/track/north"
	"foreaim/track/terrain"
)

// Satellite is one of the invented satellites. Its orbit is that of its elements,
// which it is late on.
type Satellite struct {
	Set         elements.Set
	LateS       float64 // negative: early
	FrequencyHz float64
	Schedule    beacon.Schedule
	Orbit       *track.Orbit
}

// World is what is really so.
type World struct {
	Start      time.Time  // true time when the outing begins
	Site       track.Site // where the operator stands
	Satellites []Satellite
	ClockSlow  time.Duration // true time minus the laptop's clock
	GeoidM     float64       // of the geoid above the ellipsoid at the site
	FacingDeg  float64       // the true azimuth that the operator looks along
	// BelievedDeg is what the operator takes it for, to begin with.
	BelievedDeg float64
	Chapel      north.Landmark // on a hill, a fist to the left of where the operator looks
	Skyline     terrain.Skyline
	tumble      int     // where in the fades it begins
	weakerDB    float64 // than marginAt1000Km
}

// orbit is how one of the passes is to look from the site.
type orbit struct {
	name        string
	number      int
	designator  string
	heightKm    float64
	inclination float64 // degrees
	ascending   bool
	rise        time.Duration // after the start
	peakDeg     float64       // wanted; met within a few degrees
	east        bool          // the side on which it passes
	age         time.Duration // of the elements
	fresh       bool          // launched days ago: its elements are still poor
	lateS       float64
}

// New lays out the outing for the given true start time.
func New(ctx context.Context, start time.Time) (*World, error) {
	w := &World{
		Start:     start.UTC().Round(0),
		Site:      track.Site{Name: "Ostvar meadow", LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131},
		ClockSlow: 37400 * time.Millisecond,
		GeoidM:    31.5,
		FacingDeg: 105,

		BelievedDeg: 136,
		Chapel:      north.Landmark{Name: "chapel", LatitudeDeg: 58.31035, LongitudeDeg: 14.13750, HeightM: 190, HeightKnown: true},
	}
	var err error
	if w.Skyline, err = skyline(); err != nil {
		return nil, fmt.Errorf("laying the skyline: %w", err)
	}
	orbits := []orbit{
		{"EMBERLING", 99071, "199C", 525, 97.5, true, -14 * time.Second, 58, true, 190 * time.Hour, true, 60},
		{"TIDELARK", 99072, "199D", 548, 97.6, true, 19 * time.Minute, 34, false, 40 * time.Hour, true, -6},
		{"QUILLFISH", 99065, "187A", 610, 66.1, false, 41 * time.Minute, 81, true, 40 * time.Hour, false, 0.2},
	}
	beacons := []struct {
		hz     float64
		period time.Duration
		length time.Duration
	}{
		{436.215e6, 30 * time.Second, 1200 * time.Millisecond},
		{435.640e6, 45 * time.Second, 900 * time.Millisecond},
		{145.955e6, time.Minute, 3 * time.Second},
	}
	for i, o := range orbits {
		set, err := lay(ctx, w.Site, w.Start, o)
		if err != nil {
			return nil, fmt.Errorf("laying the orbit of %s: %w", o.name, err)
		}
		prop, err := track.NewOrbit(set)
		if err != nil {
			return nil, fmt.Errorf("laying the orbit of %s: %w", o.name, err)
		}
		b := beacons[i]
		w.Satellites = append(w.Satellites, Satellite{set, o.lateS, b.hz, beacon.Schedule{
			Period:    b.period,
			First:     w.Start.Add(-time.Hour + 11*time.Second).Truncate(time.Millisecond),
			Length:    b.length,
			Tolerance: 100 * time.Millisecond,
		}, prop})
	}
	return w, nil
}

// Laptop returns what the laptop's clock shows at a true time.
func (w *World) Laptop(truth time.Time) time.Time { return truth.Add(-w.ClockSlow) }

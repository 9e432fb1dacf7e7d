package main

import (
	"io"
	"math"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/terrain"

	"github.com/spf13/pflag"
)

func (o *options) addSkyline(f *pflag.FlagSet) {
	f.StringVar(&o.skyline, "skyline", "", "trees and houses hide what the CSV `FILE` tells: azimuth_deg,elevation_deg or azimuth_deg,fists")
	o.addTerrain(f)
}

// readSkyline reads the skyline of --skyline; without it that is nil.
func (o *options) readSkyline(c config) (*terrain.Skyline, error) {
	if o.skyline == "" {
		return nil, nil
	}
	fistDeg := c.fistDeg
	if fistDeg == 0 {
		fistDeg = aim.FistDeg
	}
	s, err := readFile(o.skyline, "name a CSV file with --skyline FILE", func(r io.Reader, file string) (terrain.Skyline, error) {
		return terrain.ReadSkyline(r, file, fistDeg)
	})
	if err != nil {
		return nil, err
	}
	return &s, nil
}

// horizon is what passes are looked for over.
func (t task) horizon(lowestDeg float64) track.Horizon {
	if t.skyline == nil {
		return track.Horizon{MinElevationDeg: lowestDeg}
	}
	return t.skyline.Horizon(lowestDeg)
}

// countBursts returns the least and the most bursts that can start in sight in a
// pass. They are equal when the phase is known.
func (p passOf) countBursts() (least, most int, err error) {
	if len(p.Hidden) == 0 {
		least, most, err = p.schedule.Count(p.Rise.Time, p.Set.Time)
		if err != nil {
			err = failed("", "%w", err)
		}
		return least, most, err
	}
	phases := []time.Time{p.schedule.First}
	if !p.schedule.Known() {
		// The count changes only where a burst enters or leaves the sight.
		phases = nil
		for _, i := range p.InSight() {
			phases = append(phases, i.From, i.To)
		}
	}
	least = math.MaxInt
	for _, first := range phases {
		schedule, sum := p.schedule, 0
		schedule.First = first
		for _, i := range p.InSight() {
			count, _, err := schedule.Count(i.From, i.To)
			if err != nil {
				return 0, 0, failed("", "%w", err)
			}
			sum += count
		}
		least, most = min(least, sum), max(most, sum)
	}
	return least, most, nil
}

// hiddenFor returns whether the object is behind the skyline all of a time.
func (p passOf) hiddenFor(from, to time.Time) bool {
	return slices.ContainsFunc(p.Hidden, func(h track.Interval) bool {
		return !from.Before(h.From) && !to.After(h.To)
	})
}

// hiddenJSON is a time behind the skyline.
type hiddenJSON struct {
	From instant `json:"from"`
	To   instant `json:"to"`
}

func newHiddenJSON(p track.Pass) (all []hiddenJSON) {
	for _, h := range p.Hidden {
		all = append(all, hiddenJSON{instant(h.From), instant(h.To)})
	}
	return all
}

// sayHidden says for how long an object is behind the skyline between rise and
// set; empty when it isn't.
func sayHidden(p track.Pass) string {
	var sum time.Duration
	for _, h := range p.Hidden {
		sum += h.To.Sub(h.From)
	}
	if sum == 0 {
		return ""
	}
	return minutes(sum)
}

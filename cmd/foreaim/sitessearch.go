package main

import (
	"fmt"
	"math"
	"sync"
	"time"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"

	"github.com/spf13/cobra"
)

// comparison is what places are compared by.
type comparison struct {
	config       config
	ground       *ground
	satellite    satellite
	window       timeSpan
	lowestDeg    float64
	transmitters []radio.Transmitter
	file         string      // of these
	link         *radio.Link // nil: too little is known of the signal, and no transmitters are given

	mu    sync.Mutex
	looks map[terrain.Place][]track.Look // along the passes, by places that are near enough
	err   error                          // the first of a look
}

func (sys system) prepareComparison(cmd *cobra.Command, s *siteFlags, names []string) (*comparison, error) {
	config, err := sys.configFor(cmd)
	if err != nil {
		return nil, err
	}
	c := &comparison{config: config, lowestDeg: s.lowest.value, looks: map[terrain.Place][]track.Look{}}
	if c.ground, err = s.openGround(config); err == nil && c.ground == nil {
		err = noGround()
	}
	if err != nil {
		return nil, err
	}
	if c.transmitters, c.file, err = config.transmittersNamed(s.link); err != nil {
		return nil, err
	}
	l, err := sys.openLibrary(s.elements)
	if err != nil {
		return nil, err
	}
	sets, err := config.chooseAll(l, names)
	if err != nil {
		return nil, err
	}
	if c.satellite, err = newSatellite(sets[0], s.options, config); err != nil {
		return nil, err
	}
	c.satellite.history = l.history(sets[0])
	from := s.from.or(sys.now())
	c.window = timeSpan{from, from.Add(s.span.or(usualSitesSpan))}
	sys.warnOfAge(c.satellite, from)
	if len(c.transmitters) == 0 && !config.knowsLink(c.satellite, s.link) && !s.link.powerDBm.given {
		return c, nil
	}
	link, err := config.firstLink(c.satellite, s.link)
	if err != nil {
		return nil, err
	}
	c.link = &link
	return c, nil
}

// search is the quick look at all places. Its levels are not in dBm but in dB over
// where a transmitter begins to do harm.
func (c *comparison) search() (terrain.Search, error) {
	s := terrain.Search{Ground: c.ground, SkyShare: c.skyShare}
	var weights []float64
	for _, t := range c.transmitters {
		if t.MiddleMHz() < lowestDiffractionMHz || t.MiddleMHz() > highestDiffractionMHz {
			continue // the study of the best counts it
		}
		s.Emitters = append(s.Emitters, terrain.Emitter{
			Name: t.Name, Place: terrain.Place{LatitudeDeg: t.LatitudeDeg, LongitudeDeg: t.LongitudeDeg},
			MastM: t.MastM, FrequencyMHz: t.MiddleMHz(), Vertical: t.Polarisation == "v",
		})
		weight, err := harmAt(*c.link, t)
		if err != nil {
			return s, wrong("", "%s: %w", c.file, err)
		}
		weights = append(weights, weight)
	}
	s.LevelDBm = func(i int, distanceKm, _, lossDB float64) float64 {
		return weights[i] - lossDB - radio.FreeSpaceDB(s.Emitters[i].FrequencyMHz, max(distanceKm, leastPathKm))
	}
	return s, nil
}

// roomDB is how far a signal has to stay below what the chain bears so as to do no
// harm in a rough look: at 30 dB its products of third order are 60 dB weaker than
// at the limit (ours, no source).
const roomDB = 30.0

// harmAt returns by how much a transmitter is over where it begins to do harm, were
// there no loss on the way: it comes near what the chain bears, or stands over the
// noise on the wanted channel.
func harmAt(link radio.Link, t radio.Transmitter) (float64, error) {
	// Any loss will do, as what a chain bears doesn't hang on it.
	const lossDB = 100.0
	aside := track.Site{LatitudeDeg: max(t.LatitudeDeg-1, -90), LongitudeDeg: t.LongitudeDeg}
	path := func(radio.Transmitter, radio.Spot) (radio.Range, string, error) {
		return radio.Exactly(lossDB), "", nil
	}
	in, err := t.From(radio.Spot{Site: aside, GroundM: t.GroundM}, path)
	if err != nil {
		return 0, fmt.Errorf("transmitter %q: %w", t.Name, err)
	}
	up := track.Look{AzimuthDeg: track.Wrap360(in.BearingDeg + 90), ElevationDeg: 30, RangeKm: 1000}
	severity := radio.NewSurroundings(link, []radio.Incoming{in}).Severities(up)[0]
	over := lossDB - severity.RoomDB.Mid() + roomDB
	width := (t.HighMHz - t.LowMHz + link.Mode.BandwidthHz/1e6) / 2
	if math.Abs(t.MiddleMHz()-link.MHz()) <= width {
		over = max(over, lossDB+severity.PortDBm.Mid()-link.At(up, 0).NoiseDBm.Mid())
	}
	return over, nil
}

// lookStep is the time between two looks along a pass.
const lookStep = 15 * time.Second

// alike is the place whose looks do for all places near it, to 0.1°: a satellite
// that is low, which is where skylines count, is 1500 km away and more, and seen
// there within 0.3° of where it is seen here.
func alike(at terrain.Place) terrain.Place {
	round := func(deg float64) float64 { return math.Round(deg*10) / 10 }
	return terrain.Place{LatitudeDeg: round(at.LatitudeDeg), LongitudeDeg: round(at.LongitudeDeg)}
}

// looksFrom returns the looks along all passes, none hidden by any ground.
func (c *comparison) looksFrom(at terrain.Place) []track.Look {
	at = alike(at)
	c.mu.Lock()
	defer c.mu.Unlock()
	if looks, ok := c.looks[at]; ok || c.err != nil {
		return looks
	}
	site := track.Site{LatitudeDeg: at.LatitudeDeg, LongitudeDeg: at.LongitudeDeg}
	for t := c.window.from; t.Before(c.window.to) && c.err == nil; t = t.Add(lookStep) {
		look, err := c.satellite.orbit.Look(site, t)
		if err != nil {
			c.err = failed("", "%w", err)
		} else if look.ElevationDeg >= c.lowestDeg {
			c.looks[at] = append(c.looks[at], look)
		}
	}
	if c.err == nil && len(c.looks[at]) == 0 {
		c.err = failed("look further ahead with --for 10d", "%s: no pass within %s of %s",
			name(c.satellite.orbit.Elements()), sayDuration(c.window.to.Sub(c.window.from)), c.window.from.UTC().Format(time.RFC3339))
	}
	return c.looks[at]
}

// skyShare is how much of the time that the satellite is up it is over a skyline.
func (c *comparison) skyShare(at terrain.Place, s terrain.Skyline) float64 {
	looks := c.looksFrom(at)
	open := 0
	for _, l := range looks {
		if l.ElevationDeg >= s.ElevationDeg(l.AzimuthDeg) {
			open++
		}
	}
	return float64(open) / float64(max(len(looks), 1))
}

// fault is what went wrong with a look, if anything did.
func (c *comparison) fault() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.err
}

package main

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// study is a place that was looked at closely.
type study struct {
	terrain.Standing
	screened bool // only roughly: without its full skyline, and no passes
	passes   []passOf
	inSight  time.Duration
	least    int // bursts in sight
	most     int
	heard    *leftOver // nil: no signal is reckoned with
}

// leftOver is what is left of a beacon among the transmitters, in the middle of the
// looks.
type leftOver struct {
	effects  []radio.Severity // of the transmitters, the strongest first
	roomDB   radio.Range      // how far the peaks of all together stay below what the weakest stage bears
	riseDB   radio.Range      // of the noise
	quietDB  radio.Range      // the margin for hearing without the transmitters
	marginDB radio.Range      // and with them
}

// study looks closely at the places that have their full skyline, or where the
// search was stopped before that, at the first few; the best stands first. The
// others are left as they were screened.
func (c *comparison) study(ctx context.Context, found []terrain.Standing, few int) ([]study, error) {
	all := make([]study, len(found))
	closely := 0
	for i, at := range found {
		all[i] = study{Standing: at, screened: at.Panorama == nil}
		if at.Panorama != nil {
			closely = i + 1
		}
	}
	stopped := closely == 0
	if stopped {
		closely = min(few, len(all))
	}
	for i := range all[:closely] {
		s := &all[i]
		if s.Unknown != nil {
			continue
		}
		if err := c.look(ctx, s); err != nil {
			return nil, err
		}
	}
	if !stopped {
		slices.SortStableFunc(all[:closely], func(a, b study) int { return cmp.Compare(b.WorthDB, a.WorthDB) })
	}
	return all, nil
}

// look works out passes, and what can be heard of them.
func (c *comparison) look(ctx context.Context, s *study) error {
	looks := c.looksFrom(s.Place)
	if s.Panorama != nil {
		skyline := s.Panorama.Skyline()
		t := task{place: place{site: standingAt(s.Standing)}, config: c.config, satellites: []satellite{c.satellite}, sight: sight{skyline: &skyline}}
		var err error
		if s.passes, err = findPasses(ctx, t, c.window.from, c.window.to, c.lowestDeg); err != nil {
			return err
		}
		if err := s.count(c.window); err != nil {
			return err
		}
		looks = slices.DeleteFunc(slices.Clone(looks), func(l track.Look) bool {
			return l.ElevationDeg < skyline.ElevationDeg(l.AzimuthDeg)
		})
	}
	if c.link == nil || len(looks) == 0 {
		return nil
	}
	return c.listen(s, looks)
}

// count adds up the time in sight and the bursts.
func (s *study) count(w timeSpan) error {
	for _, p := range s.passes {
		for _, i := range p.InSight() {
			from, to := i.From, i.To
			if from.Before(w.from) {
				from = w.from
			}
			if to.After(w.to) {
				to = w.to
			}
			s.inSight += max(to.Sub(from), 0)
		}
		if p.schedule.Period > 0 {
			least, most, err := p.countBursts()
			if err != nil {
				return err
			}
			s.least, s.most = s.least+least, s.most+most
		}
	}
	return nil
}

// mostLooks is how many looks are reckoned with among transmitters.
const mostLooks = 60

// listen works out the margins among the transmitters, and with them what a place
// is worth: what they take off the margin counts against it, and so does what they
// are over what the chain bears, as nobody knows what it does then; a halved time
// in sight counts for 3 dB (ours, no source).
func (c *comparison) listen(s *study, looks []track.Look) error {
	spot := radio.Spot{Site: standingAt(s.Standing), GroundM: s.GroundM, AntennaM: s.AntennaM}
	var incoming []radio.Incoming
	for _, t := range c.transmitters {
		in, err := t.From(spot, pathLoss(c.ground))
		if err != nil {
			return c.ground.problem(err, c.file)
		}
		incoming = append(incoming, in)
	}
	few := make([]track.Look, 0, mostLooks)
	for i := range min(mostLooks, len(looks)) {
		few = append(few, looks[i*len(looks)/min(mostLooks, len(looks))])
	}
	around := radio.NewSurroundings(*c.link, incoming)
	loads := around.Along(few, 0)
	middle := func(of func(radio.Overload) radio.Range) radio.Range {
		ends := make([]radio.Range, len(loads))
		for i, o := range loads {
			ends[i] = of(o)
		}
		slices.SortFunc(ends, func(a, b radio.Range) int { return cmp.Compare(a.Mid(), b.Mid()) })
		return ends[len(ends)/2]
	}
	s.heard = &leftOver{
		effects:  around.Severities(few[len(few)/2]),
		roomDB:   middle(leastRoom),
		riseDB:   middle(func(o radio.Overload) radio.Range { return o.NoiseRiseDB }),
		quietDB:  middle(func(o radio.Overload) radio.Range { return o.Before.HearingMarginDB }),
		marginDB: middle(func(o radio.Overload) radio.Range { return o.Level.HearingMarginDB }),
	}
	s.WorthDB = 10*math.Log10(s.SkyShare) - (s.heard.quietDB.Mid() - s.heard.marginDB.Mid()) - max(-s.heard.roomDB.Mid(), 0)
	return nil
}

// leastRoom is that of the stage that has least; of a chain that bears all there is
// no end to it.
func leastRoom(o radio.Overload) radio.Range {
	least := radio.Exactly(math.Inf(1))
	for _, s := range o.Stages {
		if s.HeadroomDB.Mid() < least.Mid() {
			least = s.HeadroomDB
		}
	}
	return least
}

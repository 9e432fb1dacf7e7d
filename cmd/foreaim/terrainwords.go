package main

import (
	"context"
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/terrain"
)

// skylineDelay is what the skyline takes off a pass at both ends.
type skylineDelay struct {
	rise, set time.Duration
	overRise  string // what it is seen to rise over
	overSet   string
}

// delay works out for passes what the skyline takes off them.
func (t task) delay(ctx context.Context, passes []passOf, lowestDeg float64) (err error) {
	for i := range passes {
		if passes[i].delay, err = t.delayOf(ctx, passes[i], lowestDeg); err != nil {
			return err
		}
	}
	return nil
}

// delayOf compares a pass with the same one over the level horizon, or the lowest
// elevation that was asked for. Nil where no ground is known, and for an object
// that is always up.
func (t task) delayOf(ctx context.Context, p passOf, lowestDeg float64) (*skylineDelay, error) {
	if t.ground == nil || p.AlwaysUp {
		return nil, nil
	}
	level, err := p.orbit.PassesOver(ctx, t.site, p.Peak.Time, p.Peak.Time, track.Horizon{MinElevationDeg: lowestDeg})
	if err != nil {
		return nil, failed("", "%w", err)
	}
	if len(level) != 1 || level[0].AlwaysUp {
		return nil, nil
	}
	return &skylineDelay{
		rise:     p.Rise.Time.Sub(level[0].Rise.Time),
		set:      level[0].Set.Time.Sub(p.Set.Time),
		overRise: t.hiderAt(p.Rise), overSet: t.hiderAt(p.Set),
	}, nil
}

// hiderAt says what stands at a direction on the skyline: the ground, or what was
// written down by hand.
func (t task) hiderAt(l track.Look) string {
	ridge := crestAt(*t.ground, l.AzimuthDeg)
	if t.skyline.ElevationDeg(l.AzimuthDeg) > t.ground.Skyline().ElevationDeg(l.AzimuthDeg)+0.1 {
		return "the trees and houses"
	}
	return "the ridge " + sayAway(ridge.DistanceM) + " away"
}

// crestAt returns the crest at an azimuth.
func crestAt(p terrain.Panorama, azimuthDeg float64) terrain.Crest {
	n := len(p.Crests)
	return p.Crests[int(track.Wrap360(azimuthDeg)/360*float64(n)+0.5)%n]
}

// leastDelay is the shortest delay that is worth a word.
const leastDelay = 2 * time.Second

// sentence says it in a line: "It rises over the ridge 2.1 km away, 40 s after the
// horizon."; empty where the skyline takes nothing off.
func (d *skylineDelay) sentence() string {
	if d == nil {
		return ""
	}
	rise, set := "", ""
	if d.rise >= leastDelay {
		rise = fmt.Sprintf("rises over %s, %s after the horizon", d.overRise, sayShort(d.rise))
	}
	if d.set >= leastDelay {
		set = fmt.Sprintf("sets behind %s, %s before the horizon", d.overSet, sayShort(d.set))
	}
	switch {
	case rise == "" && set == "":
		return ""
	case rise == "" || set == "":
		return "It " + rise + set + ".\n"
	}
	return "It " + rise + ", and " + set + ".\n"
}

// cells says both ends for a table.
func (d *skylineDelay) cells() (late, early string) {
	if d == nil {
		return "", ""
	}
	if d.rise >= leastDelay {
		late = minutes(d.rise)
	}
	if d.set >= leastDelay {
		early = minutes(d.set)
	}
	return late, early
}

// delayJSON is what the skyline takes off a pass.
type delayJSON struct {
	RisesLateS *float64 `json:"rises_late_s,omitempty"` // after the level horizon
	SetsEarlyS *float64 `json:"sets_early_s,omitempty"` // before it
}

func newDelayJSON(d *skylineDelay) delayJSON {
	if d == nil {
		return delayJSON{}
	}
	return delayJSON{number(d.rise.Seconds(), 1), number(d.set.Seconds(), 1)}
}

// sayShort says a short time as "40 s" or "2m05s".
func sayShort(d time.Duration) string {
	if d < time.Minute {
		return fmt.Sprintf("%.0f s", d.Seconds())
	}
	return minutes(d)
}

// sayAway says how far something on the ground is.
func sayAway(metres float64) string {
	switch {
	case metres < 1000:
		return fmt.Sprintf("%.0f m", metres)
	case metres < 10000:
		return fmt.Sprintf("%.1f km", metres/1000)
	}
	return fmt.Sprintf("%.0f km", metres/1000)
}

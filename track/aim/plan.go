package aim

import (
	"math"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// Looker gives look angles; *track.Orbit is one.
type Looker interface {
	Look(site track.Site, t time.Time) (track.Look, error)
}

// Hold is an aim kept until a burst has passed, or, where burst times are
// unknown, until the satellite has crossed the middle of the beam.
type Hold struct {
	Number int // 1 for the first of the plan
	Direction
	Ready time.Time // be there by then
	At    time.Time // the burst's start; without a phase, the middle of the hold
	Until time.Time // stay until then
	Burst bool      // a burst is expected At
	// Hidden tells that the satellite is behind the skyline for all of the
	// burst, or without a phase for all of the hold: nobody has to be there.
	Hidden bool
	Look   track.Look
}

// Plan is the holds of a pass, in order.
type Plan struct {
	Holds []Hold
	// BurstsKnown tells that the holds stand at expected bursts. Without a
	// phase they follow each other without gap and only keep the beam ahead of
	// the satellite.
	BurstsKnown bool
}

// Settings are what a plan needs to know beside the orbit.
type Settings struct {
	Schedule     beacon.Schedule
	BeamwidthDeg float64       // between the half-power points
	Clock        time.Duration // how far the clock may be off
}

const (
	// maxHolds keeps the plan of a slow or never-setting object short; a pass
	// of a low satellite has some tens.
	maxHolds = 400
	// shortestHold is what a hand needs to find a new direction, longestHold
	// is as long as anybody keeps an arm still without being told again
	// (both common practice, no source).
	shortestHold = 5 * time.Second
	longestHold  = 10 * time.Minute
	// unknownLength is taken for a burst whose length nobody knows.
	unknownLength = time.Second
)

// PlanPass plans the holds of a pass: all of them, or, in a pass too long for
// that, those from shortly before the given time on. Numbers count from the
// pass's rise either way.
func PlanPass(o Looker, site track.Site, pass track.Pass, from time.Time, s Settings) (Plan, error) {
	if s.Schedule.Known() {
		return planBursts(o, site, pass, from, s)
	}
	return planSweep(o, site, pass, from, s)
}

// planBursts gives each expected burst a hold.
func planBursts(o Looker, site track.Site, pass track.Pass, from time.Time, s Settings) (Plan, error) {
	plan := Plan{BurstsKnown: true}
	length := s.Schedule.Length
	if length == 0 {
		length = unknownLength
	}
	// Twice the standard deviation covers 19 bursts of 20, but holds must
	// leave time to move between them.
	margin := min(2*s.Schedule.Tolerance+s.Clock, s.Schedule.Period/3)
	burst := s.Schedule.Next(pass.Rise.Time)
	first := burst.Number
	if pass.Duration() > maxHolds*s.Schedule.Period {
		if late := from.Add(-2 * s.Schedule.Period); late.After(burst.Time) {
			burst = s.Schedule.Next(late)
		}
	}
	for len(plan.Holds) < maxHolds && burst.Time.Before(pass.Set.Time) {
		look, err := o.Look(site, burst.Time)
		if err != nil {
			return plan, err
		}
		plan.Holds = append(plan.Holds, Hold{
			Number:    burst.Number - first + 1,
			Direction: Direction{look.AzimuthDeg, look.ElevationDeg},
			Ready:     burst.Time.Add(-margin),
			At:        burst.Time,
			Until:     burst.Time.Add(length + margin),
			Burst:     true,
			Hidden:    hidden(pass, burst.Time, burst.Time.Add(length)),
			Look:      look,
		})
		burst = s.Schedule.Next(burst.Time.Add(1))
	}
	return plan, nil
}

// hidden tells whether the skyline hides the satellite all the way between two
// times of a pass.
func hidden(pass track.Pass, from, to time.Time) bool {
	for _, h := range pass.Hidden {
		if !from.Before(h.From) && !to.After(h.To) {
			return true
		}
	}
	return false
}

// planSweep cuts the pass into holds in each of which the satellite moves by
// half a beamwidth at most, and points at its place in the middle of the hold:
// it enters and leaves a quarter of the beamwidth off the axis, which costs
// 0.75 dB by the pattern 12 (θ/HPBW)².
func planSweep(o Looker, site track.Site, pass track.Pass, from time.Time, s Settings) (Plan, error) {
	var plan Plan
	t := pass.Rise.Time
	if pass.AlwaysUp { // its rise is only the search's start, and may be days ago
		t = from.Truncate(longestHold).Add(-longestHold)
	}
	for len(plan.Holds) < maxHolds && t.Before(pass.Set.Time) {
		end, err := leaves(o, site, t, pass.Set.Time, s.BeamwidthDeg/2)
		if err != nil {
			return plan, err
		}
		middle := t.Add(end.Sub(t) / 2)
		look, err := o.Look(site, middle)
		if err != nil {
			return plan, err
		}
		plan.Holds = append(plan.Holds, Hold{
			Number:    len(plan.Holds) + 1,
			Direction: Direction{look.AzimuthDeg, look.ElevationDeg},
			Ready:     t,
			At:        middle,
			Until:     end,
			Hidden:    hidden(pass, t, end),
			Look:      look,
		})
		t = end
	}
	return plan, nil
}

// leaves returns when the object has moved by the given angle since t, within
// the bounds of a hold, and not after last.
func leaves(o Looker, site track.Site, t, last time.Time, deg float64) (time.Time, error) {
	start, err := o.Look(site, t)
	if err != nil {
		return t, err
	}
	moved := func(after time.Duration) (bool, error) {
		l, err := o.Look(site, t.Add(after))
		return track.SeparationDeg(start.AzimuthDeg, start.ElevationDeg, l.AzimuthDeg, l.ElevationDeg) > deg, err
	}
	short, long := shortestHold, shortestHold
	for long < longestHold {
		far, err := moved(long)
		if err != nil {
			return t, err
		}
		if far {
			break
		}
		short, long = long, min(2*long, longestHold)
	}
	for long-short > time.Second {
		middle := short + (long-short)/2
		far, err := moved(middle)
		if err != nil {
			return t, err
		}
		if far {
			long = middle
		} else {
			short = middle
		}
	}
	end := t.Add(short)
	// Don't leave a last hold that is too short to be taken.
	if end.Add(shortestHold).After(last) {
		end = last
	}
	return end, nil
}

// Moment is a plan seen at one time. Hidden holds are passed over: nobody is
// sent there, so nobody comes from there.
type Moment struct {
	Last      *Hold  // the hold before Next, nil when Next is the first
	Next      *Hold  // the hold to be in or to go to; nil after the last
	Following []Hold // after Next
	Now       bool   // the hold's time has come: keep still
}

// At returns the plan seen at t.
func (p *Plan) At(t time.Time) Moment {
	var m Moment
	for i := range p.Holds {
		h := &p.Holds[i]
		switch {
		case h.Hidden:
		case !t.Before(h.Until):
			m.Last = h
		default:
			m.Next, m.Now, m.Following = h, !t.Before(h.Ready), inSight(p.Holds[i+1:])
			return m
		}
	}
	return m
}

// inSight returns the holds that aren't hidden.
func inSight(holds []Hold) []Hold {
	isHidden := func(h Hold) bool { return h.Hidden }
	if !slices.ContainsFunc(holds, isHidden) {
		return holds
	}
	return slices.DeleteFunc(slices.Clone(holds), isHidden)
}

// Wait returns the seconds from t to the hold's burst, negative once it has
// begun.
func (h Hold) Wait(t time.Time) float64 { return h.At.Sub(t).Seconds() }

// OffDeg returns the angle between a direction and the hold's.
func (h Hold) OffDeg(d Direction) float64 {
	return math.Abs(track.SeparationDeg(h.AzimuthDeg, h.ElevationDeg, d.AzimuthDeg, d.ElevationDeg))
}

package tui

import (
	"context"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
)

const (
	// searchSpan is how far ahead passes are listed; where there is none, the
	// search goes on to longSearchSpan.
	searchSpan     = 48 * time.Hour
	longSearchSpan = 10 * 24 * time.Hour
	// afterSet is how long a pass stays on the screen after its set.
	afterSet = 5 * time.Second
	// pathPoints is how many points of a pass the window shows.
	pathPoints = 360
)

// question is everything that the passes and the plan depend on.
type question struct {
	target  target
	site    track.Site
	horizon track.Horizon
}

// passesMsg is the answer to a search for passes.
type passesMsg struct {
	generation int
	passes     []track.Pass
	from, to   time.Time // what was searched
	north      declination
	err        error
}

// searchPasses looks for passes from a time on.
func searchPasses(ctx context.Context, generation int, q question, from time.Time) passesMsg {
	m := passesMsg{generation: generation, from: from, north: declinationAt(q.site, from)}
	for _, span := range [...]time.Duration{searchSpan, longSearchSpan} {
		m.to = from.Add(span)
		m.passes, m.err = q.target.orbit.PassesOver(ctx, q.site, from.Add(-afterSet), m.to, q.horizon)
		if m.err != nil || len(m.passes) > 0 {
			break
		}
	}
	return m
}

// planMsg is the answer to a request for a plan of one pass.
type planMsg struct {
	generation int
	pass       track.Pass
	schedule   beacon.Schedule // it is made for
	plan       aim.Plan
	path       []aim.Direction
	at         time.Time
	err        error
}

// makePlan plans the holds of a pass and samples its path.
func makePlan(generation int, q question, pass track.Pass, now time.Time, s aim.Settings) planMsg {
	m := planMsg{generation: generation, pass: pass, at: now, schedule: s.Schedule}
	m.plan, m.err = aim.PlanPass(q.target.orbit, q.site, pass, now, s)
	if m.err != nil {
		return m
	}
	from, to := pass.Rise.Time, pass.Set.Time
	if long := 24 * time.Hour; to.Sub(from) > long { // a slow object: its next day
		from, to = now, now.Add(long)
	}
	for i := range pathPoints + 1 {
		look, err := q.target.orbit.Look(q.site, from.Add(to.Sub(from)/pathPoints*time.Duration(i)))
		if err != nil {
			m.err = err
			return m
		}
		m.path = append(m.path, aim.Direction{AzimuthDeg: look.AzimuthDeg, ElevationDeg: look.ElevationDeg})
	}
	return m
}

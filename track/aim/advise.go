package aim

import (
	"time"

	"foreaim/track"
)

// Advice is what to do for the next burst, and what is believed.
type Advice struct {
	// Next is when the next burst begins that may be heard; without a known
	// phase, when by the latest it has begun. The zero time: none is left.
	Next time.Time
	// PhaseKnown tells that the burst begins at Next.
	PhaseKnown bool
	// Aim is the direction to hold, as the operator should believe it.
	Aim             Direction
	HearProbability float64

	ObjectName        string // of the likeliest
	Object            int    // the likeliest, an index of the prior's objects
	ObjectProbability []float64
	TimeErrorS        Estimate // of the likeliest object
	HeadingErrorDeg   Estimate
	// AudibleProbability is that a burst can be heard at all when the antenna
	// is right: the beacon is on, strong enough and not drowned.
	AudibleProbability float64
	// Explains is false when what was observed is hardly possible for any
	// object, error and phase that the prior allows.
	Explains bool
	Learned  bool // something was heard or missed
	// QuarterTurns is by how many the boom should have been twisted about its own
	// axis since the belief began: 0 unless the twist is unknown, see Prior.
	QuarterTurns int

	onProbability float64 // that anything can be heard
	phaseKnown    bool
}

const (
	candidateCount = 32 // aims weighed for the next burst
	laterCount     = 16 // aims weighed for the bursts after it
	laterBursts    = 2  // of those after it that are looked at
	// leastUp is the share of the belief that must have the object up.
	leastUp = 0.02
	// worthLeaving is by how many heard bursts another aim must be better than
	// leading: less is not worth a surprise.
	worthLeaving = 0.02
)

// Advise returns what to do at a time, for the next burst after it. What was
// advised is what Observe takes as held when nobody says otherwise.
func (b *Belief) Advise(now time.Time) Advice {
	a := b.estimates()
	points := b.grid.points(pointCount)
	if len(points) == 0 {
		return a
	}
	h, left := b.horizon(now, points)
	if !left {
		return a
	}
	next := b.grid.likeliestTime(&h.next)
	best := h.choose(b.leadUnit(next), b.model.prior.BeamwidthDeg)
	a.Aim = directionOf(best)
	a.HearProbability = h.next.hits(best, make([]float64, len(points))) * a.onProbability
	a.Next, a.PhaseKnown = next, a.phaseKnown
	if !a.PhaseKnown {
		a.Next = now.Add(b.model.prior.Schedule.Period)
	}
	b.advise(now, a)
	return a
}

// estimates says what is believed.
func (b *Belief) estimates() Advice {
	g := b.grid
	m := g.marginals()
	a := Advice{ObjectProbability: m.objects, Explains: g.evidence.explains(), Learned: g.evidence.marks > 0}
	for k, p := range m.objects {
		if p > m.objects[a.Object] {
			a.Object = k
		}
	}
	a.ObjectName = g.model.prior.Objects[a.Object].Name
	if g.model.prior.TwistUnknown {
		a.QuarterTurns = b.twist.turns()
	}
	for _, p := range m.phases {
		a.phaseKnown = a.phaseKnown || p > phaseSure
	}
	a.TimeErrorS = estimate(g.late[a.Object], m.late[a.Object])
	a.HeadingErrorDeg = estimate(g.heading, m.heading).turned()
	for l, p := range m.levels[:silentLevel] {
		a.onProbability += p
		// At some levels even a burst at 1000 km in mid-beam is rarely heard.
		if g.model.hearing(ear{noisy: g.noisy}).at(g.model.marginDB(l))[0] > audibleFrom {
			a.AudibleProbability += p
		}
	}
	return a
}

const (
	// phaseSure is the probability from which the bursts' times are told.
	phaseSure = 0.7
	// audibleFrom is how often a burst at 1000 km in mid-beam must be heard
	// for the beacon to count as audible.
	audibleFrom = 0.25
)

// likeliestTime returns when a burst begins, by the likeliest phase.
func (g *grid) likeliestTime(s *shot) time.Time {
	best := 0
	mass := g.marginals().phases
	for p := range mass {
		if mass[p] > mass[best] {
			best = p
		}
	}
	return s.at[best]
}

// leadUnit returns where leading aims: where the likeliest object of the prior
// is predicted at a time, as the prior corrects it.
func (b *Belief) leadUnit(t time.Time) track.Vector {
	m := b.model
	best := 0
	for k := range m.skies {
		if m.weight(k) > m.weight(best) {
			best = k
		}
	}
	t = m.clip(t)
	s := m.skies[best].at(t).late(m.prior.Objects[best].TimeErrorS)
	d := directionOf(s.unit)
	return unit(d.AzimuthDeg-m.prior.HeadingErrorDeg, d.ElevationDeg)
}

func (b *Belief) lead(t time.Time) Direction { return directionOf(b.leadUnit(t)) }

// clip moves a time into what the skies cover.
func (m *model) clip(t time.Time) time.Time {
	from, to := m.window()
	return between(t, from, to)
}

// nearby moves a time that is further from the pass than any pass lasts to the
// nearest that isn't: both are outside alike, and the bursts between are few.
func (m *model) nearby(t time.Time) time.Time {
	from, to := m.window()
	return between(t, from.Add(-maxPass), to.Add(maxPass))
}

func between(t, from, to time.Time) time.Time {
	if t.Before(from) {
		return from
	}
	if t.After(to) {
		return to
	}
	return t
}

package aim

import (
	"foreaim/track"
	"time"
)

// noted is an observation with what it refers to.
type noted struct {
	Observation
	held Direction
	// since is the observation before: without a known phase, silence reaches
	// back so far.
	since time.Time
}

// missedBefore stands for the bursts that were missed before one that was heard,
// where the phase isn't known.
const missedBefore Kind = "missed before"

// sounding is one burst that was heard or missed.
type sounding struct {
	at    time.Time
	heard bool
	// wrong is a mark where this phase has no burst.
	wrong bool
}

// soundings returns what an observation says about the bursts of a phase.
func (m *model) soundings(o noted, p phase) []sounding {
	burst := m.about(o.Time, p)
	if m.prior.Schedule.Known() {
		switch {
		case o.Kind == Silent:
			return []sounding{{at: burst}}
		case m.fits(o.Time, burst):
			return []sounding{{at: burst, heard: true}}
		}
		return []sounding{{wrong: true}}
	}
	d := o.Time.Sub(burst).Seconds() - reactionS
	fits := d >= -3*reactionSigmaS && d <= 3*reactionSigmaS
	if o.Kind == Heard {
		return []sounding{{at: burst, heard: fits, wrong: !fits}}
	}
	var all []sounding
	for at := m.from(o.since, p); at.Before(o.Time); at = at.Add(m.prior.Schedule.Period) {
		if o.Kind == Silent || !fits || !at.Equal(burst) {
			all = append(all, sounding{at: at})
		}
	}
	return all
}

// observe takes an observation into account and returns how likely it was.
func (g *grid) observe(o noted) float64 {
	switch o.Kind {
	case NoiseUp:
		g.noisy = true
		return 1
	case NoiseNormal:
		g.noisy = false
		return 1
	case NotListening:
		return 1
	}
	boom := g.headingVectors(o.held)
	e := ear{sensed: o.Sensed, noisy: g.noisy}
	all := g.model.hearing(e)
	said := all
	if o.Strength != "" {
		e.strength = o.Strength
		said = g.model.hearing(e)
	}
	measured := o.FrequencyHz > 0 && g.model.prior.FrequencyHz > 0 && o.Kind == Heard
	moments := g.moments(o)
	for i := range g.rows {
		r := &g.rows[i]
		for _, b := range moments[r.phase][r.object] {
			table := all
			if b.heard {
				table = said
			}
			g.sound(r, b.late(r.lateS), boom, table, b.heard)
		}
	}
	p := g.normalise()
	if !measured {
		return p
	}
	for i := range g.rows {
		r := &g.rows[i]
		for _, b := range moments[r.phase][r.object] {
			if b.heard {
				g.tune(r, b.late(r.lateS), o.FrequencyHz)
			}
		}
	}
	g.normalise()
	return p
}

// heardMoment is the sky at a burst that was heard or missed.
type heardMoment struct {
	moment
	heard bool
}

// moments returns the sky of each phase and object at the bursts that an
// observation is about. Where a phase has no burst at a mark, the mark is a
// false one and says nothing about the directions; how unlikely that is, is in
// the phase's weight.
func (g *grid) moments(o noted) [][][]heardMoment {
	all := make([][][]heardMoment, len(g.phases))
	for p := range all {
		bursts := g.model.soundings(o, g.phases[p])
		all[p] = make([][]heardMoment, len(g.model.skies))
		for k, sky := range g.model.skies {
			for _, b := range bursts {
				if !b.wrong && sky.covers(b.at) {
					all[p][k] = append(all[p][k], heardMoment{sky.at(b.at), b.heard})
				}
			}
		}
	}
	return all
}

// sound multiplies a row by how likely each of its cells makes it that a burst
// was heard, or missed.
func (g *grid) sound(r *row, s seen, boom []track.Vector, table *hearing, heard bool) {
	cells := g.cells(r)
	never := float64(falseRate)
	if !heard {
		never = 1 - falseRate
	}
	if s.elevation < g.model.sinMin {
		for i := range cells {
			cells[i] *= never
		}
		return
	}
	var by [silentLevel]*[angleSteps + 1]float32
	for l := range by {
		by[l] = table.at(g.model.marginDB(l) - s.spreadDB)
	}
	a, b := falseRate, 1-falseRate-missRate
	if !heard {
		a, b = 1-falseRate, -b
	}
	for h, v := range boom {
		i := angleIndex(s.unit[0]*v[0] + s.unit[1]*v[1] + s.unit[2]*v[2])
		c := cells[h*levelCount : (h+1)*levelCount]
		for l, p := range by {
			c[l] *= a + b*float64(p[i])
		}
		c[silentLevel] *= never
	}
}

package aim

import (
	"time"

	"foreaim/track"
)

// point stands for an equal share of what can be heard at all in a belief.
type point struct {
	object, phase int
	lateS         float64
	headingDeg    float64
	levels        [silentLevel]float64 // probability of each
}

// pointCount is into how many points a belief is boiled down to weigh aims.
const pointCount = 192

// points draws points evenly through the cells of a grid, without chance: one
// for each equal share of the weights in their order.
func (g *grid) points(count int) []point {
	audible := 0.0
	each := make([]float64, 0, len(g.rows)*g.heading.n)
	for i := range g.rows {
		for cells := g.cells(&g.rows[i]); len(cells) > 0; cells = cells[levelCount:] {
			w := 0.0
			for _, x := range cells[:silentLevel] {
				w += x
			}
			each = append(each, w)
			audible += w
		}
	}
	if audible == 0 {
		return nil
	}
	points := make([]point, 0, count)
	share := audible / float64(count)
	due := share / 2
	for k, w := range each {
		if due -= w; due >= 0 {
			continue
		}
		r, h := &g.rows[k/g.heading.n], k%g.heading.n
		p := point{object: r.object, phase: r.phase, lateS: r.lateS, headingDeg: g.heading.at(h)}
		for l, x := range g.cells(r)[h*levelCount:][:silentLevel] {
			p.levels[l] = x / w
		}
		for ; due < 0 && len(points) < count; due += share {
			points = append(points, p)
		}
	}
	return points
}

// shot is one burst as the points see it.
type shot struct {
	at   []time.Time // by phase
	seen []sighting  // by point
	up   float64     // share of the points that have the object up
}

// sighting is what a point makes of a burst.
type sighting struct {
	up     bool
	unit   track.Vector                          // of the object, turned to where the operator must believe the boom
	tables [silentLevel]*[angleSteps + 1]float32 // by level
	levels *[silentLevel]float64                 // their probabilities
}

// shot works out a burst, given its start by phase.
func (g *grid) shot(at []time.Time, points []point) shot {
	s := shot{at: at, seen: make([]sighting, len(points))}
	m := g.model
	table := m.hearing(ear{noisy: g.noisy})
	moments := make([]moment, len(m.skies)*len(g.phases))
	for i := range points {
		p := &points[i]
		sky := m.skies[p.object]
		if !sky.covers(at[p.phase]) {
			continue
		}
		mo := &moments[p.phase*len(m.skies)+p.object]
		if mo.sky == nil {
			*mo = sky.at(at[p.phase])
		}
		o := mo.late(p.lateS)
		if o.elevation < m.sinMin {
			continue
		}
		sin, cos := sincosDeg(p.headingDeg)
		into := &s.seen[i]
		*into = sighting{
			up:     true,
			levels: &p.levels,
			// Azimuth less the heading error: turned to the left by it.
			unit: track.Vector{cos*o.unit[0] - sin*o.unit[1], sin*o.unit[0] + cos*o.unit[1], o.unit[2]},
		}
		for l := range into.tables {
			into.tables[l] = table.at(m.marginDB(l) - o.spreadDB)
		}
		s.up++
	}
	s.up /= float64(max(1, len(points)))
	return s
}

// hits writes the probability of hearing the burst for each point with the
// boom believed to be in a direction, and returns the mean.
func (s *shot) hits(aim track.Vector, into []float64) float64 {
	sum := 0.0
	for i := range s.seen {
		o := &s.seen[i]
		if !o.up {
			into[i] = 0
			continue
		}
		k := angleIndex(aim[0]*o.unit[0] + aim[1]*o.unit[1] + aim[2]*o.unit[2])
		p := 0.0
		for l, table := range &o.tables {
			p += o.levels[l] * float64(table[k])
		}
		into[i] = (1 - missRate) * p
		sum += into[i]
	}
	return sum / float64(len(s.seen))
}

// candidates returns directions worth aiming at: where points see the object,
// evenly chosen among them.
func (s *shot) candidates(most int) []track.Vector {
	up := make([]int, 0, len(s.seen))
	for i := range s.seen {
		if s.seen[i].up {
			up = append(up, i)
		}
	}
	n := min(most, len(up))
	all := make([]track.Vector, 0, n)
	for k := range n {
		all = append(all, s.seen[up[(2*k+1)*len(up)/(2*n)]].unit)
	}
	return all
}

package aim

import (
	"math"
	"slices"
	"time"
)

// Belief is what can be known during a pass about which object sends, how late
// it is, how wrong the operator's north is, when the bursts come, and whether
// they can be heard. It is a probability for each cell of a grid over these,
// made anew from all observations whenever it has become too coarse or no
// longer fits. The same prior and observations give the same belief. It is not
// safe for use by several goroutines at once.
type Belief struct {
	model *model
	log   []noted
	holds []advised
	grid  *grid
	// narrow tells that the grid covers less than the prior does.
	narrow bool
	twist  twist
}

// advised is a direction that was advised from a time on, for a burst.
type advised struct {
	from, burst time.Time
	aim         Direction
}

// NewBelief returns the belief before anything was observed. The error names a
// value of the prior that is out of range, or is that of an orbit.
func NewBelief(p Prior) (*Belief, error) {
	m, err := newModel(p)
	if err != nil {
		return nil, err
	}
	b := &Belief{model: m}
	b.rebuild(nil)
	return b, nil
}

// Observe takes an observation into account. Of two about the same burst the
// later one counts. One that is outside the pass, or of a heard burst where
// none was expected, changes nothing else than whether the belief explains
// what was observed.
func (b *Belief) Observe(o Observation) {
	o.Time = b.model.nearby(o.Time)
	n := noted{Observation: o, held: b.held(o)}
	again := b.replaces(n)
	newest := len(b.log) == 0 || !o.Time.Before(b.log[len(b.log)-1].Time)
	b.log = append(b.log, n)
	slices.SortStableFunc(b.log, func(x, y noted) int { return x.Time.Compare(y.Time) })
	if len(b.log) > maxLog {
		b.log = b.log[1:]
	}
	b.reach()
	if again || !newest || o.Kind == Heard && !b.model.prior.Schedule.Known() || b.grid.take(b.log[len(b.log)-1]) ||
		b.narrow && !b.grid.evidence.explains() {
		b.rebuild(nil)
	}
	switch {
	case o.Kind == Heard && !b.grid.stray(n):
		b.twist.heard()
	case o.Kind == Silent && newest:
		b.twist.missed(1 - b.grid.evidence.last)
	}
	if o.Kind == Heard {
		b.refine()
	}
}

// reach works out since when each observation has been listened for.
func (b *Belief) reach() {
	for i := range b.log {
		n := &b.log[i]
		switch {
		case i > 0:
			n.since = b.log[i-1].Time
		case len(b.holds) > 0:
			n.since = b.holds[0].from
		default:
			n.since = n.Time.Add(-b.model.prior.Schedule.Period)
		}
		// Long silences are not believed further back than anybody would stand.
		if far := n.Time.Add(-longestSilence); n.since.Before(far) {
			n.since = far
		}
	}
}

const (
	longestSilence = 10 * time.Minute
	// maxLog bounds what is kept of either; a pass has some tens.
	maxLog = 2000
)

// replaces removes an earlier observation of the same burst, and tells whether
// there was one.
func (b *Belief) replaces(n noted) bool {
	if !b.model.prior.Schedule.Known() || n.Kind != Heard && n.Kind != Silent {
		return false
	}
	p := b.grid.phases[0]
	burst := b.model.about(n.Time, p)
	if n.Kind == Heard && !b.model.fits(n.Time, burst) {
		return false
	}
	before := len(b.log)
	b.log = slices.DeleteFunc(b.log, func(o noted) bool {
		if o.Kind != Heard && o.Kind != Silent {
			return false
		}
		return b.model.about(o.Time, p).Equal(burst) && (o.Kind == Silent || b.model.fits(o.Time, burst))
	})
	return len(b.log) < before
}

// advise notes what was advised at a time.
func (b *Belief) advise(now time.Time, a Advice) {
	if len(b.holds) == maxLog {
		b.holds = b.holds[1:]
	}
	b.holds = append(b.holds, advised{from: now, burst: a.Next, aim: a.Aim})
}

// held returns the direction of an observation: its own, or the one advised
// last for the burst.
func (b *Belief) held(o Observation) Direction {
	if o.Held != nil {
		return *o.Held
	}
	if len(b.holds) == 0 {
		return b.lead(o.Time)
	}
	known := b.model.prior.Schedule.Known()
	burst := b.model.about(o.Time, b.grid.phases[0])
	d := b.holds[0].aim
	for _, h := range b.holds {
		if !h.from.After(o.Time) {
			d = h.aim
		}
	}
	if !known {
		return d
	}
	for _, h := range slices.Backward(b.holds) {
		if h.burst.Equal(burst) {
			return h.aim
		}
	}
	return d
}

// rebuild makes the grid from all observations, on the given spans or on those
// of the prior.
func (b *Belief) rebuild(s *spans) {
	m := b.model
	var heard []time.Time
	for _, n := range b.log {
		if n.Kind == Heard {
			heard = append(heard, n.Time)
		}
	}
	phases := m.phases(heard)
	if b.narrow = s != nil; !b.narrow {
		s = m.widest()
	}
	late, headings := size(len(m.skies), len(phases))
	b.grid = newGrid(m, phases, s.late, s.heading, late, headings)
	for _, n := range b.log {
		b.grid.take(n)
	}
	if len(b.grid.rows) == 0 { // cannot be: each factor is above 0
		b.grid = newGrid(m, phases, s.late, s.heading, late, headings)
	}
}

// size returns how finely a grid is laid: fine enough for the beam where there
// is one object, and no more cells than can be worked through at once.
func size(objects, phases int) (late, heading int) {
	switch {
	case objects > 1 && phases > 1:
		return 40, 24
	case objects > 1:
		return max(40, min(120, 1600/objects)), 24
	case phases > 1:
		return 120, 30
	}
	return 160, 60
}

// spans is what the axes of a grid cover.
type spans struct {
	late    []span // by object
	heading span
}

// widest returns the spans of the prior.
func (m *model) widest() *spans {
	half := math.Min(180, sigmas*m.prior.HeadingSigmaDeg)
	return &spans{m.spanS, span{m.prior.HeadingErrorDeg - half, m.prior.HeadingErrorDeg + half}}
}

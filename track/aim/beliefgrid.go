package aim

import (
	"math"

	"foreaim/track"
)

// axis is evenly spaced values.
type axis struct {
	first, step float64
	n           int
}

func (a axis) at(i int) float64 { return a.first + float64(i)*a.step }

// span is the values that an axis is to cover.
type span struct{ low, high float64 }

func (s span) axis(most int, finest float64) axis {
	width := s.high - s.low
	n := min(most, int(width/finest)+1)
	if n < 2 {
		return axis{first: (s.low + s.high) / 2, n: 1}
	}
	step := width / float64(n)
	return axis{first: s.low + step/2, step: step, n: n}
}

// grid is the belief, given what is on its axes: a weight for each object ×
// phase × time error × heading error × level.
type grid struct {
	model    *model
	phases   []phase
	late     []axis // by object
	heading  axis
	rows     []row     // those that are still possible
	weights  []float64 // of the rows that rows name, by heading and level
	noisy    bool
	evidence evidence
}

// row is all headings and levels of one object, phase and time error.
type row struct {
	object, phase int
	lateS         float64
	start         int     // of its weights
	offsetHz      float64 // expected of sender and receiver together
	offsetVar     float64 // its variance, Hz²
	mass          float64
}

// levels are the steps of the margin, in its standard deviations from the
// expected; the last level is that nothing can be heard.
var levels = [...]float64{-3, -2, -1, 0, 1, 2, 3}

const (
	silentLevel = len(levels)
	levelCount  = len(levels) + 1
)

// newGrid lays the prior on axes.
func newGrid(m *model, phases []phase, late []span, heading span, mostLate, mostHeading int) *grid {
	g := &grid{model: m, heading: heading.axis(mostHeading, 0.4)}
	g.phases = phases
	p := &m.prior
	levelWeights := m.levelWeights()
	headings := make([]float64, g.heading.n)
	for i := range headings {
		headings[i] = bell(track.TurnDeg(p.HeadingErrorDeg, g.heading.at(i)), p.HeadingSigmaDeg)
	}
	size := 0
	for k := range p.Objects {
		a := late[k].axis(mostLate, 0.3)
		g.late = append(g.late, a)
		size += a.n * len(g.phases) * g.heading.n * levelCount
	}
	g.weights = make([]float64, 0, size)
	for k, o := range p.Objects {
		a := g.late[k]
		for phase := range g.phases {
			for i := range a.n {
				r := row{object: k, phase: phase, lateS: a.at(i), start: len(g.weights), offsetVar: square(m.prior.OffsetSigmaHz)}
				// The cell's width makes cells of different objects comparable.
				w := m.weight(k) * bell(r.lateS-o.TimeErrorS, o.TimeSigmaS)
				if o.TimeSigmaS > 0 {
					w *= a.step / (o.TimeSigmaS * math.Sqrt(2*math.Pi))
				}
				w *= g.phases[phase].weight
				for _, h := range headings {
					for _, l := range levelWeights {
						g.weights = append(g.weights, w*h*l)
					}
				}
				g.rows = append(g.rows, r)
			}
		}
	}
	g.normalise()
	return g
}

// bell is a normal distribution's density without its factor; 1 without a
// standard deviation.
func bell(x, sigma float64) float64 {
	if sigma == 0 {
		return 1
	}
	return math.Exp(-x * x / (2 * sigma * sigma))
}

// cells returns a row's weights.
func (g *grid) cells(r *row) []float64 {
	return g.weights[r.start : r.start+g.heading.n*levelCount]
}

const (
	// leastMass is the share below which a row is dropped.
	leastMass = 1e-7
	// leastCell is what a cell is never below: after hundreds of silent bursts it
	// must still be told where to listen.
	leastCell = 1e-30
)

// normalise makes the weights' sum 1, drops rows that hardly matter and
// returns what the sum was.
func (g *grid) normalise() float64 {
	total := 0.0
	for i := range g.rows {
		r := &g.rows[i]
		r.mass = 0
		for _, w := range g.cells(r) {
			r.mass += w
		}
		total += r.mass
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return 0
	}
	kept := g.rows[:0]
	for _, r := range g.rows {
		if r.mass /= total; r.mass < leastMass {
			continue
		}
		for i := range g.cells(&r) {
			g.weights[r.start+i] = g.weights[r.start+i]/total + leastCell
		}
		kept = append(kept, r)
	}
	g.rows = kept
	return total
}

// headingVectors returns where the boom points for each heading error, held in
// a direction.
func (g *grid) headingVectors(d Direction) []track.Vector {
	v := make([]track.Vector, g.heading.n)
	for i := range v {
		v[i] = unit(d.AzimuthDeg+g.heading.at(i), d.ElevationDeg)
	}
	return v
}

func square(x float64) float64 { return x * x }

package aim

import (
	"math"

	"foreaim/track"
)

// Estimate is what is believed about one error.
type Estimate struct {
	Mean, Sigma float64
	// Low and High are the central interval that holds it with 68 %.
	Low, High float64
}

// central is what a 68 % interval leaves out on each side.
const central = 0.16

// estimate returns the mean, standard deviation and central interval of
// weights on an axis; each weight is spread evenly over its cell.
func estimate(a axis, weights []float64) Estimate {
	total, mean, second := 0.0, 0.0, 0.0
	for i, w := range weights {
		x := a.at(i)
		total += w
		mean += w * x
		second += w * x * x
	}
	if total == 0 {
		return Estimate{}
	}
	mean /= total
	return Estimate{
		Mean:  mean,
		Sigma: math.Sqrt(max(0, second/total-mean*mean) + a.step*a.step/12),
		Low:   quantile(a, weights, central*total),
		High:  quantile(a, weights, (1-central)*total),
	}
}

// turned returns the estimate of an angle by whole circles elsewhere, so that its
// mean is within ±180°.
func (e Estimate) turned() Estimate {
	by := track.TurnDeg(0, e.Mean) - e.Mean
	e.Mean, e.Low, e.High = e.Mean+by, e.Low+by, e.High+by
	return e
}

// quantile returns where the sum of the weights reaches a value.
func quantile(a axis, weights []float64, sum float64) float64 {
	for i, w := range weights {
		if sum < w || i == len(weights)-1 && w > 0 {
			return a.at(i) + (min(1, sum/w)-0.5)*a.step
		}
		sum -= w
	}
	return a.at(len(weights) - 1)
}

// marginals are sums of a grid's weights over all axes but one.
type marginals struct {
	objects []float64
	late    [][]float64 // by object
	heading []float64
	levels  [levelCount]float64
	phases  []float64
}

func (g *grid) marginals() *marginals {
	m := &marginals{
		objects: make([]float64, len(g.late)),
		late:    make([][]float64, len(g.late)),
		heading: make([]float64, g.heading.n),
		phases:  make([]float64, len(g.phases)),
	}
	for k, a := range g.late {
		m.late[k] = make([]float64, a.n)
	}
	for i := range g.rows {
		r := &g.rows[i]
		a := g.late[r.object]
		at := 0
		if a.n > 1 {
			at = int(math.Round((r.lateS - a.first) / a.step))
		}
		m.objects[r.object] += r.mass
		m.late[r.object][at] += r.mass
		m.phases[r.phase] += r.mass
		cells := g.cells(r)
		for h := range m.heading {
			for l, w := range cells[h*levelCount : (h+1)*levelCount] {
				m.heading[h] += w
				m.levels[l] += w
			}
		}
	}
	return m
}

const (
	// outside is the share that the spans of a finer grid leave out, on each
	// side.
	outside = 1e-4
	// worthIt is by how much an axis must shrink before it is laid again.
	worthIt = 0.6
	// unlikely is the share below which an object keeps its axis.
	unlikely = 1e-5
)

// refine lays a finer grid where the belief has become narrow.
func (b *Belief) refine() {
	g := b.grid
	m := g.marginals()
	s := &spans{heading: g.heading.narrow(m.heading)}
	shrunk := s.heading.high-s.heading.low < worthIt*g.heading.width()
	for k, a := range g.late {
		part := span{a.first - a.step/2, a.at(a.n-1) + a.step/2}
		if m.objects[k] > unlikely {
			part = a.narrow(m.late[k])
			if part.high-part.low < worthIt*a.width() && m.objects[k] > 0.1 {
				shrunk = true
			}
		}
		s.late = append(s.late, part)
	}
	if shrunk {
		b.rebuild(s)
	}
}

func (a axis) width() float64 { return float64(a.n) * a.step }

// narrow returns the span that holds nearly all of the weights, a cell wider
// on each side.
func (a axis) narrow(weights []float64) span {
	if a.n == 1 {
		return span{a.first, a.first}
	}
	total := 0.0
	for _, w := range weights {
		total += w
	}
	return span{
		max(a.first-a.step/2, quantile(a, weights, outside*total)-a.step),
		min(a.at(a.n-1)+a.step/2, quantile(a, weights, (1-outside)*total)+a.step),
	}
}

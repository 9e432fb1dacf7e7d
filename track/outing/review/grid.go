package review

import (
	"math"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
)

// grid is every pair of time error and heading error at every margin, and how
// likely each makes what became of the bursts.
type grid struct {
	late, heading, margin axis
	bursts                []sight
	tables                *tables
	likely                map[likelyKey][]float32 // of one burst, by cell
	joint                 map[jointKey][]float32  // of all of them
}

// sight is a burst as the grid sees it.
type sight struct {
	heard, stray, sensed bool
	strength             outing.Strength // only where heard
	boom                 aim.Direction
	unit                 []track.Vector // of the satellite, by time error
	spreadDB             []float64      // what distance adds to the loss at 1000 km
}

type likelyKey struct {
	burst, drop int
	wild        bool
}

// mostLooked is how many bursts are weighed: a mask has so many bits.
const mostLooked = 64

// jointKey says which bursts could be heard, and by how much they were drowned.
type jointKey struct {
	wild                  bool
	audible, drop1, drop2 uint64
}

func (g *grid) size() int { return len(g.late.at) * len(g.heading.at) * len(g.margin.at) }

// unit returns a direction as a vector: east, north, up.
func unit(d aim.Direction) track.Vector {
	sinA, cosA := math.Sincos(d.AzimuthDeg * rad)
	sinE, cosE := math.Sincos(d.ElevationDeg * rad)
	return track.Vector{sinA * cosE, cosA * cosE, sinE}
}

// key is how a variant shows in these bursts.
func (g *grid) key(v variant) jointKey {
	k := jointKey{wild: v.wild}
	for i, b := range g.bursts {
		if b.stray && !v.strays || !b.stray && v.audible != nil && !v.audible(i) {
			continue
		}
		k.audible |= 1 << i
		if v.drop == nil || b.stray {
			continue
		}
		switch v.drop(i) {
		case 1:
			k.drop1 |= 1 << i
		case 2:
			k.drop2 |= 1 << i
		}
	}
	return k
}

// of returns the likelihood of all bursts, by cell: late, then heading, then margin.
func (g *grid) of(k jointKey) []float32 {
	if l := g.joint[k]; l != nil {
		return l
	}
	silence := float32(1)
	l := make([]float32, g.size())
	for i, b := range g.bursts {
		if k.audible>>i&1 == 1 {
			continue
		}
		switch {
		case b.stray:
			silence *= strayMark
		case b.heard && b.strength != "":
			silence *= falseMark / strengths
		case b.heard:
			silence *= falseMark
		default:
			silence *= 1 - falseMark
		}
	}
	for c := range l {
		l[c] = silence
	}
	for i := range g.bursts {
		if k.audible>>i&1 == 0 {
			continue
		}
		one := g.one(likelyKey{i, int(k.drop1>>i&1) + 2*int(k.drop2>>i&1), k.wild})
		for c, p := range one {
			l[c] *= p
		}
	}
	g.joint[k] = l
	return l
}

// one returns the likelihood of what became of one burst, by cell.
func (g *grid) one(k likelyKey) []float32 {
	if l := g.likely[k]; l != nil {
		return l
	}
	b := g.bursts[k.burst]
	hand := steady
	switch {
	case b.sensed:
		hand = sensed
	case k.wild:
		hand = wild
	}
	t := g.tables.of(hand, b.strength)
	slip := float32(falseMark)
	if b.strength != "" {
		slip /= strengths
	}
	booms := make([]track.Vector, len(g.heading.at))
	for h, x := range g.heading.at {
		booms[h] = unit(aim.Direction{AzimuthDeg: b.boom.AzimuthDeg + x, ElevationDeg: b.boom.ElevationDeg})
	}
	l := make([]float32, 0, g.size())
	for n, u := range b.unit {
		loss := b.spreadDB[n] + float64(k.drop)*dropDB
		for _, v := range booms {
			row := int(math.Acos(max(-1, min(1, u[0]*v[0]+u[1]*v[1]+u[2]*v[2])))/rad/angleStep + 0.5)
			for _, m := range g.margin.at {
				p := float32(0)
				if u[2] > 0 {
					p = t.of(row, m-loss)
				}
				p = slip + (1-falseMark-missed)*p
				if !b.heard {
					p = 1 - p
				}
				l = append(l, p)
			}
		}
	}
	g.likely[k] = l
	return l
}

// strayMark is how often something is marked where the beacon isn't, for each
// such mark: somebody else's signal, or a slip.
const strayMark = 0.03

// weights are the priors of the three axes.
type weights struct{ late, heading, margin []float64 }

// sum returns the likelihood averaged over the priors and, where into is not
// nil, adds each cell's share times a factor to the marginals.
func (g *grid) sum(l []float32, w weights, into *weights, factor float64) float64 {
	total, c := 0.0, 0
	nm := len(g.margin.at)
	for i, pl := range w.late {
		if pl == 0 {
			c += len(w.heading) * nm
			continue
		}
		for h, ph := range w.heading {
			if ph == 0 {
				c += nm
				continue
			}
			row := 0.0
			for m, p := range l[c : c+nm] {
				x := float64(p) * w.margin[m]
				row += x
				if into != nil {
					into.margin[m] += x * pl * ph * factor
				}
			}
			c += nm
			x := row * pl * ph
			total += x
			if into != nil {
				into.late[i] += x * factor
				into.heading[h] += x * factor
			}
		}
	}
	return total
}

func (g *grid) empty() *weights {
	return &weights{make([]float64, len(g.late.at)), make([]float64, len(g.heading.at)), make([]float64, len(g.margin.at))}
}

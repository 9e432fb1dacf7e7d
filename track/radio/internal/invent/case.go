package invent

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// The causes that a case may have.
const (
	Outside    = "outside"
	Saturation = "saturation"
	Own        = "own"
	Product    = "product"
	Nothing    = "nothing"
)

// Case is what somebody would bring home from an outing, and why it was so.
type Case struct {
	Cause string
	// Clear: the cause outweighs all others by far, and what was looked at can
	// show it; no answer was a mistake.
	Clear bool

	WantedMHz float64
	// Survey is a file of two spectra, the second with the attenuator in; of one
	// where nobody took the second; empty where nobody took any.
	Survey string
	Noise  string // up, normal, or nothing where nobody said
	PadDB  float64
	// Answers are yes, no, can't tell, or nothing: does the noise drop turned away,
	// with the attenuator in, by twice as much or more; and carried ten steps away?
	TurnAway, Weaken, TooMuch, Carried string

	mistaken bool // an answer is wrong
}

// NewCase makes one up: something goes wrong at random, in a receiver made up at
// random, and the operator looks at some of it, and answers wrongly now and then.
func NewCase(r *rand.Rand) Case {
	cause := []string{Outside, Saturation, Own, Product, Nothing}[r.IntN(5)]
	x := receiver{
		ip3DBm: -15 + 15*r.Float64(), noiseK: 50 + 100*r.Float64(), behindK: 20 + 40*r.Float64(), skyK: 60 + 250*r.Float64(),
	}
	// Television in some channels, weak enough to do nothing.
	for ch := range 14 {
		if r.IntN(3) == 0 {
			low := 470 + 8*float64(ch)
			x.carriers = append(x.carriers, carrier{low + 0.2, low + 7.8, x.ip3DBm - 50 - 20*r.Float64()})
		}
	}
	round, inBeam, inside := false, false, false
	quietK := x.shownK(wantedMHz, 0)
	rise := func() float64 { return quietK * (ratio(4+21*r.Float64()) - 1) }
	switch cause {
	case Outside:
		inBeam = r.IntN(4) != 0
		x.outsideMH = 0.6 + 6*r.Float64()
		x.outsideK = rise()
	case Own:
		inside = r.IntN(2) == 0
		if inside {
			x.insideK = rise()
		} else {
			round, x.roundK = true, rise()
		}
	case Saturation:
		x.carriers = append(x.carriers, carrier{462.2 + 60*r.Float64(), 0, x.ip3DBm - 7.5 + 4*r.Float64()})
		last := &x.carriers[len(x.carriers)-1]
		last.highMHz = last.lowMHz + []float64{0.2, 1.5, 7.6}[r.IntN(3)]
		x.mixingDBc = -155 + 20*r.Float64()
	case Product:
		// Two channels whose product 2·a − b covers the wanted frequency.
		first := r.IntN(6)
		second := 2*first + 4 + r.IntN(2)
		for _, ch := range []int{first, second} {
			low := 470 + 8*float64(ch)
			x.carriers = append(x.carriers, carrier{low + 0.2, low + 7.8, 0})
		}
		n := len(x.carriers)
		want := dB(rise()) + boltzmannDBm + dB(23e6)
		level := (want + 2*x.ip3DBm - 3) / 3
		x.carriers[n-2].dBm, x.carriers[n-1].dBm = level+2*r.Float64(), level
	}
	c := Case{Cause: cause, WantedMHz: wantedMHz, PadDB: []float64{6, 10, 10, 15}[r.IntN(4)]}
	c.look(r, x, inBeam, round)
	c.Clear = c.clear(x, quietK, inBeam, round, inside)
	return c
}

// look is what the operator writes down.
func (c *Case) look(r *rand.Rand, x receiver, inBeam, round bool) {
	now, behind := dB(x.shownK(wantedMHz, 0)), dB(x.shownK(wantedMHz, c.PadDB))
	usual := x
	usual.carriers, usual.outsideK, usual.roundK, usual.insideK = nil, 0, 0, 0
	if r.IntN(8) != 0 {
		c.Noise = "normal"
		if now > dB(usual.shownK(wantedMHz, 0))+2.5 {
			c.Noise = "up"
		}
	}
	answer := func(truth bool) string {
		switch r.IntN(30) {
		case 0:
			truth = !truth
			c.mistaken = true
		case 1, 2:
			return "can't tell"
		}
		if truth {
			return "yes"
		}
		return "no"
	}
	if r.IntN(4) != 0 {
		turns := inBeam && now > dB(usual.shownK(wantedMHz, 0))+2.5
		if c.Cause == Saturation || c.Cause == Product {
			turns = r.IntN(2) == 0 // nobody knows an antenna outside its band
		}
		c.TurnAway = answer(turns)
		c.Weaken = answer(now-behind > 1.5)
		if c.Weaken == "yes" {
			c.TooMuch = answer(now-behind > 1.7*c.PadDB)
		}
	}
	if r.IntN(2) == 0 {
		c.Carried = answer(c.Cause == Own)
	}
	var b strings.Builder
	sweeps := r.IntN(5)
	if sweeps == 0 {
		return
	}
	b.WriteString("# made up\nfrequency_mhz,level_db,attenuator_db\n")
	looks, scale := 20+r.IntN(60), 150*r.Float64()
	for n, pad := range []float64{0, c.PadDB} {
		if n == 1 && sweeps == 1 {
			break
		}
		for i := range points {
			mhz := firstMHz + stepMHz*float64(i)
			fmt.Fprintf(&b, "%.1f,%.2f,%.0f\n", mhz, scale+Noisy(r, x.shownDB(mhz, pad), looks), pad)
		}
	}
	c.Survey = b.String()
}

// clear says whether the cause is beyond doubt for somebody who knows all of
// physics, and of this outing what was looked at.
func (c Case) clear(x receiver, quietK float64, inBeam, round, inside bool) bool {
	loss := x.lossDB(0)
	product := dB(1 + (x.productK(wantedMHz, 0)+x.mixingK(0))/quietK)
	now, behind := dB(x.shownK(wantedMHz, 0)), dB(x.shownK(wantedMHz, c.PadDB))
	padded := strings.Contains(c.Survey, fmt.Sprintf(",%.0f\n", c.PadDB))
	told := c.Noise != "" && c.TurnAway != "" && c.TurnAway != "can't tell" && c.Weaken != "" && c.Weaken != "can't tell" && c.TooMuch != "can't tell"
	up := now - dB(quietK)
	if c.mistaken {
		return false
	}
	switch c.Cause {
	case Outside:
		// Falls by all that was put in and no further, though it could: a product
		// would have fallen to the receiver's own noise. It comes from one side. By
		// eye alone nobody sees by how much.
		return loss < 1 && product < 1 && up > 6 && math.Abs(now-behind-c.PadDB) < 1.5 && padded && told && inBeam
	case Own:
		return loss < 1 && product < 1 && up > 6 && (inside && (told || padded && c.Noise != "") || round && told && c.Carried != "" && c.Carried != "can't tell")
	case Saturation:
		// The gain comes back behind the attenuator.
		return padded && loss > 5 && loss-x.lossDB(c.PadDB) > 4
	case Product:
		return padded && loss < 1 && now-behind > 1.7*c.PadDB+1
	}
	return loss < 0.5 && product < 0.3 && padded && told && c.Noise == "normal"
}

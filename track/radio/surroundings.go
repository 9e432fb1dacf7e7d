package radio

import (
	"cmp"
	"math"
	"slices"

	"foreaim/track"
)

// Surroundings is a link among strong transmitters, made ready to be asked for
// any direction.
type Surroundings struct {
	link     Link
	carriers []carrier
	products []product // those that can matter
	unknown  []product // of second order, whose strength nobody can tell
	chains   [len(sides)]settled
	gains    [len(sides)][][]float64 // by stage and carrier: from the port to the stage's input, a ratio
	wanted   [len(sides)][]float64   // by stage, for the wanted signal
	direct   []float64               // by carrier: the share that is sent in the wanted channel
	directed bool
	fixed    *reckoned // where no direction matters
}

// Products that can't matter are left out: each that stays below negligible of
// the noise whatever the direction, and of the others the weakest that together
// stay below negligibleSum. They would raise the noise by 0.02 dB, were there
// millions of the former, and by 0.004 dB.
const (
	negligible    = 1e-9
	negligibleSum = 1e-3
)

// NewSurroundings works out which products can fall on the wanted channel.
func NewSurroundings(link Link, incoming []Incoming) *Surroundings {
	s := &Surroundings{link: link}
	c := link.channel()
	for _, in := range incoming {
		t := carrier{Incoming: in, mhz: in.MiddleMHz(), width: in.HighMHz - in.LowMHz, noisy: in.noiseLike()}
		most, directed := 0.0, false
		if !t.measured {
			most, directed = link.Antenna.mostDBi(link.MHz(), t.mhz)
		}
		t.mostDBm = in.IsotropicDBm.High + most
		s.directed = s.directed || directed
		s.carriers = append(s.carriers, t)
		s.direct = append(s.direct, c.share(newSpread(t.mhz, t.width)))
	}
	for _, end := range sides {
		s.chains[end] = link.Chain.settle(end, link.MHz())
		s.gains[end], s.wanted[end] = s.chains[end].inputs(s.carriers, link.MHz())
	}
	s.find(c)
	if !s.directed {
		s.fixed = s.work(0, 0, nil)
	}
	return s
}

// mostDBi returns the most that an antenna may have in any direction, and
// whether the direction makes a difference.
func (a Antenna) mostDBi(wantedMHz, frequencyMHz float64) (float64, bool) {
	most, directed := math.Inf(-1), false
	for off := 0.0; off <= 180; off++ {
		g, d := a.UnwantedDBi(wantedMHz, frequencyMHz, off)
		most, directed = max(most, g.High), directed || d
	}
	if directed && a.Pattern != nil { // the table may peak between two whole degrees
		for _, cut := range a.Pattern.cuts {
			for _, g := range cut {
				most = max(most, g.dBi)
			}
		}
	}
	return most, directed
}

// inputs returns the gain from the port to each stage's input, as ratios.
func (c settled) inputs(carriers []carrier, wantedMHz float64) (gains [][]float64, wanted []float64) {
	db, wantedDB := make([]float64, len(carriers)), 0.0
	for _, f := range c {
		stage := make([]float64, len(carriers))
		for i := range carriers {
			stage[i] = ratio(db[i])
			db[i] += f.leakAt(carriers[i].mhz)
		}
		gains, wanted = append(gains, stage), append(wanted, ratio(wantedDB))
		wantedDB += f.gainAt(wantedMHz)
	}
	return gains, wanted
}

// find lists the products that can matter, whatever the direction.
func (s *Surroundings) find(c channel) {
	most := make([]float64, len(s.carriers))
	for i, t := range s.carriers {
		most[i] = ratio(t.mostDBm)
	}
	noise := ratio(s.link.noiseDBm(s.link.antennaK(90), s.link.chainK()).Low)
	measured := false
	for _, f := range s.chains[unkind] {
		measured = measured || f.ip2.Known
	}
	third(s.carriers, c, func(p product, shape spread) {
		s.factors(&p)
		if s.atMost(p, most) >= noise*negligible && p.scale(c.share(shape)) {
			s.products = append(s.products, p)
		}
	})
	second(s.carriers, c, func(p product, shape spread) {
		s.factors(&p)
		switch {
		case !p.scale(c.share(shape)):
		case !measured:
			s.unknown = append(s.unknown, p)
		case s.atMost(p, most) >= noise*negligible:
			s.products = append(s.products, p)
		}
	})
	slices.SortFunc(s.products, func(a, b product) int { return cmp.Compare(s.atMost(b, most), s.atMost(a, most)) })
	for rest := 0.0; len(s.products) > 0; {
		last := len(s.products) - 1
		if rest += s.atMost(s.products[last], most); rest > noise*negligibleSum {
			break
		}
		s.products = s.products[:last]
	}
}

func (s *Surroundings) atMost(p product, powers []float64) float64 {
	return p.strength[unkind] * p.powers(powers)
}

// scale takes a share of a product; false when nothing is left.
func (p *product) scale(share float64) bool {
	for _, end := range sides {
		p.strength[end] *= share
	}
	return share > 0
}

// powers multiplies the powers of a product's carriers.
func (p *product) powers(mw []float64) float64 {
	v := mw[p.of[0]] * mw[p.of[1]]
	if p.of[2] >= 0 {
		v *= mw[p.of[2]]
	}
	return v
}

// factors turns a product's weight into its power at the antenna's port for
// carriers of 1 mW: the stages' added up in voltage, the worst case. Third
// order: P1·√P2 over the intercept; second: √(P1·P2) over its root.
func (s *Surroundings) factors(p *product) {
	for _, end := range sides {
		amplitude := 0.0
		for k, f := range s.chains[end] {
			var per float64 // 1/mW or 1/√mW
			switch {
			case p.order == 3:
				per = f.perIP3
			case f.ip2.Known:
				per = f.perIP2
			}
			if per > 0 {
				amplitude += per * math.Sqrt(p.powers(s.gains[end][k])/s.wanted[end][k])
			}
		}
		p.strength[end] *= amplitude * amplitude
	}
}

// At returns what the transmitters do to the beacon, the antenna pointing at it
// or, by the same angle for the beacon only, beside it.
func (s *Surroundings) At(look track.Look, offAimDeg float64) Overload {
	return s.Along([]track.Look{look}, offAimDeg)[0]
}

// sameDeg is how little a beam has to turn for all to stay as it was: no table
// of an antenna is finer.
const sameDeg = 1.0

// Along does so for all of a pass.
func (s *Surroundings) Along(looks []track.Look, offAimDeg float64) []Overload {
	all := make([]Overload, len(looks))
	r := s.fixed
	var of track.Look // where r was reckoned
	for i, level := range s.link.Along(looks, offAimDeg) {
		look := looks[i]
		if r == nil || s.directed && track.SeparationDeg(of.AzimuthDeg, of.ElevationDeg, look.AzimuthDeg, look.ElevationDeg) > sameDeg {
			r, of = s.work(look.AzimuthDeg, look.ElevationDeg, nil), look
		}
		all[i] = s.overload(r, level, look.ElevationDeg)
	}
	return all
}

// Directed says whether anything depends on where the antenna points. Where it
// doesn't, no advice may depend on it either.
func (s *Surroundings) Directed() bool { return s.directed }

package radio

import (
	"cmp"
	"math"
	"slices"
)

// Overload is what strong transmitters do to the beacon. Levels are at the
// antenna's port and -Inf where there is nothing.
type Overload struct {
	Stages      []Load // the active ones, in order
	GainLossDB  Range  // of the beacon, by compression
	ProductsDBm Range  // intermodulation in the wanted channel
	DirectDBm   Range  // sent in the wanted channel itself
	MixingDBm   Range  // reciprocal mixing, where phase noise is given
	NoiseRiseDB Range
	Products    []Product // the strongest, at most ten
	// Unmeasured are second-order products that fall on the channel, of unknown
	// strength as no stage's second-order intercept is given; at most ten.
	Unmeasured []Product
	Before     Level // without the transmitters
	Level      Level // with them
	Directed   bool  // whether it depends on where the antenna points
}

// Load is what an active stage has to bear.
type Load struct {
	Name string
	// TotalDBm is the sum of all carriers at its input, HeadroomDB how far their
	// peaks stay below its compression, or its converter's full scale; negative:
	// overloaded. A few steady carriers peak where all are in step; many are like
	// noise.
	TotalDBm, HeadroomDB Range
	GainLossDB           Range
}

// easyDB is the headroom at which nobody need worry: third-order products fall
// by thrice what the carriers fall (common practice, no source).
const easyDB = 15.0

// Words says how a stage stands it.
func (l Load) Words() string {
	switch {
	case l.HeadroomDB.High < 0:
		return "overloaded"
	case l.HeadroomDB.Low < 0:
		return "may be overloaded"
	case l.HeadroomDB.Low < easyDB:
		return "near its limit"
	}
	return "bears it"
}

// Product is one that the chain makes of strong carriers.
type Product struct {
	Words    string // of what it is made
	Order    int
	LowMHz   float64 // what it occupies
	HighMHz  float64
	LevelDBm Range // in the wanted channel, at the antenna's port; 0 where it isn't measured
}

const listed = 10

// overload words the work on both sides.
func (s *Surroundings) overload(r *reckoned, before Level, elevationDeg float64) Overload {
	w := &r.work
	o := Overload{Before: before, Level: before, Directed: s.directed, Products: r.strongest}
	// Each side's values are told as the range's two ends: more is unkind.
	span := func(of func(end side) float64) Range { return Range{of(kindly), of(unkind)} }
	var clean, with [len(sides)]float64 // mW in the bandwidth
	for _, end := range sides {
		clean[end], with[end] = s.noise(end, &w[end], elevationDeg)
	}
	o.Level.NoiseDBm = span(func(end side) float64 { return decibels(with[end]) })
	o.Level.finish(s.link.Mode)
	// The same products raise a quiet floor by more than a noisy one.
	o.NoiseRiseDB = Range{
		decibels(1 + (with[kindly]-clean[kindly])/clean[unkind]),
		decibels(1 + (with[unkind]-clean[unkind])/clean[kindly]),
	}
	o.GainLossDB = span(func(end side) float64 { return sum(w[end].lostDB) })
	o.ProductsDBm = span(func(end side) float64 { return decibels(w[end].products) })
	o.DirectDBm = span(func(end side) float64 { return decibels(w[end].direct) })
	o.MixingDBm = span(func(end side) float64 { return decibels(w[end].mixing) })
	for k, f := range s.chains[unkind] {
		if math.IsInf(f.bears(), 1) {
			continue
		}
		room := func(end side) float64 {
			return s.chains[end][k].bears() - w[end].loads[k] - w[end].peaksDB[k]
		}
		o.Stages = append(o.Stages, Load{
			Name:       f.name,
			TotalDBm:   span(func(end side) float64 { return w[end].loads[k] }),
			HeadroomDB: Range{room(unkind), room(kindly)},
			GainLossDB: span(func(end side) float64 { return w[end].lostDB[k] }),
		})
	}
	for _, p := range s.unknown[:min(listed, len(s.unknown))] {
		o.Unmeasured = append(o.Unmeasured, Product{Words: p.words(s.carriers), Order: 2, LowMHz: p.low, HighMHz: p.high})
	}
	return o
}

// noise returns the noise in mW without and with the transmitters. What
// compression takes off a stage's gain makes the noise of the later ones count
// for more.
func (s *Surroundings) noise(end side, w *work, elevationDeg float64) (clean, with float64) {
	antenna := end.against(s.link.antennaK(elevationDeg))
	thermal := func(lost []float64) float64 {
		chain, _, _, _ := s.chains[end].sum(s.link.MHz(), lost)
		return ratio(ThermalNoiseDBm(antenna+chain, s.link.Mode.BandwidthHz))
	}
	return thermal(nil), thermal(w.lostDB) + w.products + w.direct + w.mixing
}

// strongest lists the products that count most where all is unkind.
func (s *Surroundings) strongest(w [len(sides)]work) []Product {
	best := make([]int, 0, listed+1)
	for n, v := range w[unkind].made {
		if len(best) == listed && v <= w[unkind].made[best[listed-1]] {
			continue
		}
		at, _ := slices.BinarySearchFunc(best, v, func(i int, v float64) int { return cmp.Compare(v, w[unkind].made[i]) })
		best = slices.Insert(best, at, n)
		best = best[:min(len(best), listed)]
	}
	var list []Product
	for _, n := range best {
		p := s.products[n]
		list = append(list, Product{
			Words: p.words(s.carriers), Order: int(p.order), LowMHz: p.low, HighMHz: p.high,
			LevelDBm: Range{decibels(w[kindly].made[n]), decibels(w[unkind].made[n])},
		})
	}
	return list
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}

package radio

import (
	"fmt"
	"math"
)

// product is one that a chain makes of up to three carriers in the wanted
// channel: its power there is its strength times theirs, all in mW at the
// antenna's port.
type product struct {
	order     int8
	of        [3]int32            // carriers, the first ones added; -1: none
	minus     int8                // how many of the last are subtracted
	strength  [len(sides)]float64 // by side; to begin with its weight
	low, high float64             // what it occupies, MHz
}

// carrier is a transmitter as the chain sees it.
type carrier struct {
	Incoming
	mhz, width float64
	noisy      bool
	mostDBm    float64 // whatever the direction
}

// words writes it by the names of its carriers: "2 × Hill TV - Lake TV".
func (p product) words(all []carrier) string {
	name := func(i int) string { return all[p.of[i]].Name + " " + all[p.of[i]].Band() }
	switch {
	case p.order == 2 && p.minus == 1:
		return fmt.Sprintf("%s - %s", name(0), name(1))
	case p.order == 2 && p.of[0] == p.of[1]:
		return fmt.Sprintf("2 × %s", name(0))
	case p.order == 2:
		return fmt.Sprintf("%s + %s", name(0), name(1))
	case p.of[0] == p.of[1] && p.of[1] == p.of[2] && p.minus == 0:
		return fmt.Sprintf("3 × %s", name(0))
	case p.of[0] == p.of[1] && p.of[1] == p.of[2]:
		return fmt.Sprintf("%s spread by itself", name(0))
	case p.minus == 1 && (p.of[2] == p.of[0] || p.of[2] == p.of[1]):
		other := 0
		if p.of[2] == p.of[0] {
			other = 1
		}
		return fmt.Sprintf("%s spread by %s", name(other), name(2))
	}
	sign := "+"
	if p.minus == 1 {
		sign = "-"
	}
	if p.of[0] == p.of[1] {
		return fmt.Sprintf("2 × %s %s %s", name(0), sign, name(2))
	}
	if p.of[1] == p.of[2] {
		return fmt.Sprintf("%s + 2 × %s", name(0), name(1))
	}
	return fmt.Sprintf("%s + %s %s %s", name(0), name(1), sign, name(2))
}

// weightOf is by how much a product is stronger than that of the formula for
// equal tones, as a ratio. Tones: a triple beat 6 dB more, a third harmonic 9.5
// dB less, a second one 6 dB less (expansion of a polynomial; the triple beat is
// in common textbooks). What is like noise, used twice, has twice the mean
// square, three times a harmonic's six (moments of a complex normal variable;
// the 3 dB of 2f1 − f2 agree with a simulation). 0: nothing new arises.
func weightOf(a, b, c int, minus int, noisy []bool) float64 {
	square := func(i int) float64 { // of a carrier used twice
		if noisy[i] {
			return 2
		}
		return 1
	}
	switch {
	case minus == 1 && a == b && b == c: // what of a·|a|² is not a itself
		return 2 * (square(a) - 1)
	case minus == 1 && a == b:
		return square(a)
	case minus == 1 && (c == a || c == b): // modulation of one carried over to the other
		return 4 * (square(c) - 1)
	case minus == 1:
		return 4
	case a == b && b == c:
		return (5*square(a) - 4) / 9
	case a == b:
		return square(a)
	case b == c:
		return square(b)
	}
	return 4
}

// third calls found with each product of third order that touches the channel.
func third(all []carrier, c channel, found func(p product, s spread)) {
	noisy := make([]bool, len(all))
	for i, t := range all {
		noisy[i] = t.noisy
	}
	try := func(i, j, k, minus int, sign float64) {
		f := all[i].mhz + all[j].mhz + sign*all[k].mhz
		f, half := math.Abs(f), (all[i].width+all[j].width+all[k].width)/2
		if !c.touches(f-half, f+half) {
			return
		}
		if w := weightOf(i, j, k, minus, noisy); w > 0 {
			found(product{order: 3, of: [3]int32{int32(i), int32(j), int32(k)}, minus: int8(minus), strength: [len(sides)]float64{w, w}, low: f - half, high: f + half},
				newSpread(f, all[i].width, all[j].width, all[k].width))
		}
	}
	for i := range all {
		for j := i; j < len(all); j++ {
			for k := range all {
				try(i, j, k, 1, -1)
			}
			for k := j; k < len(all); k++ {
				try(i, j, k, 0, 1)
			}
		}
	}
}

// second does so for those of second order.
func second(all []carrier, c channel, found func(p product, s spread)) {
	for i := range all {
		for j := i; j < len(all); j++ {
			half := (all[i].width + all[j].width) / 2
			for minus, f := range []float64{all[i].mhz + all[j].mhz, math.Abs(all[i].mhz - all[j].mhz)} {
				if minus == 1 && i == j || !c.touches(f-half, f+half) {
					continue
				}
				w := 1.0
				if i == j {
					w = 0.25
					if all[i].noisy {
						w = 0.5
					}
				}
				found(product{order: 2, of: [3]int32{int32(i), int32(j), -1}, minus: int8(minus), strength: [len(sides)]float64{w, w}, low: f - half, high: f + half},
					newSpread(f, all[i].width, all[j].width))
			}
		}
	}
}

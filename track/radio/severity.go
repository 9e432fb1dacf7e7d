package radio

import (
	"cmp"
	"math"
	"slices"

	"foreaim/track"
)

// Severity is what one transmitter does here, by itself and with the others.
type Severity struct {
	Incoming
	PortDBm Range // at the antenna's port
	// RoomDB is how far it alone stays below what the chain bears, its peaks
	// included; negative: it overloads the chain by itself.
	RoomDB Range
	Words  string
}

// Severities returns the transmitters, the strongest first, for a direction of
// the antenna.
func (s *Surroundings) Severities(look track.Look) []Severity {
	r := s.work(look.AzimuthDeg, look.ElevationDeg, nil)
	guilty := map[int32]bool{}
	w := &r.work[unkind]
	clean, _ := s.noise(kindly, &r.work[kindly], look.ElevationDeg)
	for n, p := range s.products {
		if w.made[n] > clean/10 {
			for _, i := range p.of {
				guilty[i] = true
			}
		}
	}
	all := make([]Severity, len(s.carriers))
	for i, c := range s.carriers {
		v := Severity{Incoming: c.Incoming, PortDBm: Range{decibels(r.work[kindly].mw[i]), decibels(r.work[unkind].mw[i])}}
		v.RoomDB = Range{s.room(i, unkind, v.PortDBm.High), s.room(i, kindly, v.PortDBm.Low)}
		switch {
		case v.RoomDB.High < 0:
			v.Words = "overloads the chain by itself"
		case s.direct[i]*w.mw[i] > clean/10:
			v.Words = "sends on the wanted channel"
		case v.RoomDB.Low < 0:
			v.Words = "may overload the chain by itself"
		case guilty[int32(i)]:
			v.Words = "makes noise in the wanted channel together with others"
		default:
			v.Words = "harmless"
		}
		all[i] = v
	}
	slices.SortStableFunc(all, func(a, b Severity) int { return cmp.Compare(b.PortDBm.High, a.PortDBm.High) })
	return all
}

// room returns how far a carrier's peaks stay below the compression of the
// weakest stage, +Inf in a passive chain.
func (s *Surroundings) room(i int, end side, portDBm float64) float64 {
	peak := 0.0
	if s.carriers[i].noisy {
		peak = noisyPeakDB
	}
	least := math.Inf(1)
	for k, f := range s.chains[end] {
		least = min(least, f.bears()-portDBm-peak-decibels(s.gains[end][k][i]))
	}
	return least
}

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
	Words  string // one of Harms
}

// What a transmitter does, in words, the worst first.
const (
	Overloads    = "overloads the chain by itself"
	OnTheChannel = "sends on the wanted channel"
	MayOverload  = "may overload the chain by itself"
	Mixes        = "makes noise in the wanted channel together with others"
	Harmless     = "harmless"
)

// Harms returns what a transmitter may do, the worst first.
func Harms() []string { return []string{Overloads, OnTheChannel, MayOverload, Mixes, Harmless} }

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
			v.Words = Overloads
		case s.direct[i]*w.mw[i] > clean/10:
			v.Words = OnTheChannel
		case v.RoomDB.Low < 0:
			v.Words = MayOverload
		case guilty[int32(i)]:
			v.Words = Mixes
		default:
			v.Words = Harmless
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

package radio

import (
	"fmt"
	"math"

	"foreaim/track"
)

const placeCaution = "Ask whose land it is. Keep the antenna away from overhead lines and masts, and stay off hills when there is thunder about."

// fewDB is the least that another direction has to bring to be worth a word.
const fewDB = 3.0

// otherPass looks for directions in which the antenna hears less of the
// transmitters. Where it isn't known which these are, there is no such advice.
func (s *Surroundings) otherPass(look track.Look, offAimDeg float64) (Remedy, bool) {
	if !s.directed {
		return Remedy{}, false
	}
	const step = 10
	var margins [360 / step]Overload
	best := 0
	for i := range margins {
		there := look
		there.AzimuthDeg = float64(i * step)
		margins[i] = s.At(there, offAimDeg)
		if margins[i].Level.HearingMarginDB.Low > margins[best].Level.HearingMarginDB.Low {
			best = i
		}
	}
	top := margins[best].Level
	if top.HearingMarginDB.Low < s.At(look, offAimDeg).Level.HearingMarginDB.Low+fewDB {
		return Remedy{}, false
	}
	// The sector around the best that is nearly as good.
	reach := func(way int) int {
		n := 0
		for n < len(margins)-1 && margins[(best+way*(n+1)+len(margins))%len(margins)].Level.HearingMarginDB.Low > top.HearingMarginDB.Low-1 {
			n++
		}
		return n
	}
	from, to := track.Wrap360(float64((best-reach(-1))*step)), track.Wrap360(float64((best+reach(1))*step))
	return Remedy{
		Kind:            OtherPass,
		Words:           fmt.Sprintf("Take a pass on which the antenna points at azimuths of %.0f to %.0f degrees, clockwise: there it hears least of the transmitters.", from, to),
		HearingMarginDB: top.HearingMarginDB, DecodingMarginDB: top.DecodingMarginDB,
	}, true
}

// weaker returns what it takes off all transmitters alike to restore the noise,
// and the margins then.
func (s *Surroundings) weaker(look track.Look, offAimDeg float64) (db float64, r Remedy, possible bool) {
	db, possible = s.needed(look, func(carrier) bool { return true })
	w := s.work(look.AzimuthDeg, look.ElevationDeg, func(carrier) float64 { return ratio(-db) })
	level := s.overload(w, s.link.At(look, offAimDeg), look.ElevationDeg).Level
	return db, Remedy{HearingMarginDB: level.HearingMarginDB, DecodingMarginDB: level.DecodingMarginDB, Caution: placeCaution}, possible
}

func (s *Surroundings) behindHill(look track.Look, offAimDeg float64) (Remedy, bool) {
	db, r, possible := s.weaker(look, offAimDeg)
	r.Kind = BehindHill
	r.Words = fmt.Sprintf("Go where a hill stands between you and the strong transmitters that takes %.0f dB off them.", db)
	return r, possible
}

// furtherAway tells how far from the strongest transmitter.
func (s *Surroundings) furtherAway(look track.Look, offAimDeg float64) (Remedy, bool) {
	db, r, possible := s.weaker(look, offAimDeg)
	if !possible {
		return Remedy{}, false
	}
	strongest := s.strongestCarrier()
	km, possible := strongest.away(db)
	r.Kind = FurtherAway
	r.Words = fmt.Sprintf("Go %.0f km away from %s, which is %.0f km from here, with no other one nearer than now: that takes %.0f dB off it.",
		km, strongest.Name, strongest.DistanceKm, db)
	return r, possible
}

func (s *Surroundings) strongestCarrier() carrier {
	best := s.carriers[0]
	for _, c := range s.carriers {
		if c.mostDBm > best.mostDBm {
			best = c
		}
	}
	return best
}

// farKm is how far somebody would go.
const farKm = 300.0

// away returns the distance, rounded up to a kilometre, at which a transmitter
// is weaker by some dB over a smooth Earth; false beyond farKm.
func (in Incoming) away(db float64) (km float64, possible bool) {
	loss := func(km float64) float64 { return smoothEarthDB(in.Transmitter, in.heightsM[0], in.heightsM[1], km) }
	now := max(in.DistanceKm, leastKm)
	for km = math.Floor(now) + 1; km <= farKm; km++ {
		if loss(km) >= loss(now)+db {
			return km, true
		}
	}
	return farKm, false
}

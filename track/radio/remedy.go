package radio

import (
	"cmp"
	"fmt"
	"slices"

	"foreaim/track"
)

// Remedy is something to change, with what it would bring.
type Remedy struct {
	Kind    RemedyKind
	Words   string // what to do
	Caution string // where it can hurt somebody or something; may be empty
	// The margins with it, as sure as all that is known.
	HearingMarginDB, DecodingMarginDB Range
	Verdict                           Verdict
}

// RemedyKind is what sort of change it is.
type RemedyKind string

// The remedies, in the order of what they cost.
const (
	LessGain     RemedyKind = "less gain"
	NoPreamp     RemedyKind = "no preamplifier"
	OtherPass    RemedyKind = "another pass"
	FilterFirst  RemedyKind = "filter"
	BehindHill   RemedyKind = "behind a hill"
	FurtherAway  RemedyKind = "further away"
	StrongPreamp RemedyKind = "stronger preamplifier"
)

var costs = []RemedyKind{LessGain, NoPreamp, OtherPass, FilterFirst, BehindHill, FurtherAway, StrongPreamp}

// Verdict is whether a remedy makes the beacon heard.
type Verdict string

// The verdicts, best first.
const (
	Enough    Verdict = "enough"
	MayDo     Verdict = "may be enough"
	NotEnough Verdict = "not enough"
	NoHelp    Verdict = "no help"
)

var verdicts = []Verdict{Enough, MayDo, NotEnough, NoHelp}

const (
	// harmlessDB is a rise of the noise that nobody notices.
	harmlessDB = 0.5
	// restoredDB is the rise of the noise down to which a remedy is worked out.
	restoredDB = 1.0
	// mostDB is the most attenuation that is asked for (beyond it signals get in
	// by other ways; common practice, no source).
	mostDB = 80.0
)

// Advice is what to change so that the beacon is heard.
type Advice struct {
	Now      Overload
	Words    string   // the verdict
	Remedies []Remedy // best first; none where none is needed
}

// Advise works out the remedies for a direction of the beacon, such as a pass's
// peak or where it gets drowned, and ranks them: what is surely enough first,
// then what costs least. As it doesn't know more than s does, the margins are
// ranges.
func (s *Surroundings) Advise(look track.Look, offAimDeg float64) Advice {
	a := Advice{Now: s.At(look, offAimDeg)}
	if a.Now.NoiseRiseDB.High < harmlessDB {
		a.Words = "Strong transmitters do no harm here." + a.Now.untold()
		if a.Now.Before.HearingMarginDB.Low < 0 {
			a.Words += " What is missing is signal: a higher pass, a larger antenna, less loss before the preamplifier."
		}
		return a
	}
	for _, try := range []func(track.Look, float64) (Remedy, bool){
		s.lessGain, s.withoutPreamp, s.otherPass, s.filterFirst, s.behindHill, s.furtherAway, s.strongPreamp,
	} {
		if r, possible := try(look, offAimDeg); possible {
			r.Verdict = judge(r.HearingMarginDB, a.Now.Level.HearingMarginDB)
			a.Remedies = append(a.Remedies, r)
		}
	}
	slices.SortStableFunc(a.Remedies, func(x, y Remedy) int {
		return cmp.Or(
			cmp.Compare(slices.Index(verdicts, x.Verdict), slices.Index(verdicts, y.Verdict)),
			cmp.Compare(slices.Index(costs, x.Kind), slices.Index(costs, y.Kind)))
	})
	a.Words = a.verdict() + a.Now.untold()
	return a
}

// judge says whether a margin will do, and whether it is any better.
func judge(with, now Range) Verdict {
	switch {
	case with.Low < now.Low+harmlessDB && with.High < now.High+harmlessDB:
		return NoHelp
	case with.Low >= 0:
		return Enough
	case with.High >= 0:
		return MayDo
	}
	return NotEnough
}

// verdict sums up.
func (a Advice) verdict() string {
	now := a.Now.Level.HearingMarginDB
	text := fmt.Sprintf("Strong transmitters raise the noise by %s dB; the margin for hearing is %s dB. ", a.Now.NoiseRiseDB, now)
	best := a.Remedies[0]
	switch {
	case a.Now.Before.HearingMarginDB.High < 0:
		return text + fmt.Sprintf("None of these is enough: even without the transmitters %.0f dB are missing at best.", -a.Now.Before.HearingMarginDB.High)
	case now.Low >= 0:
		return text + "It is enough as it is."
	case best.Verdict == Enough:
		return text + "Enough, and at the least cost: " + string(best.Kind) + "."
	case best.Verdict == MayDo:
		return text + "Nothing is sure to be enough; what may be, at the least cost: " + string(best.Kind) + "."
	}
	return text + "None of these is enough."
}

// untold says what could not be reckoned with; "" when all could.
func (o Overload) untold() string {
	if len(o.Unmeasured) == 0 {
		return ""
	}
	return fmt.Sprintf(" Not reckoned with, as no second-order intercept is given: %s.", o.Unmeasured[0].Words)
}

// restored says whether the noise is down again, on the unkind side.
func (s *Surroundings) restored(r *reckoned, elevationDeg float64) bool {
	clean, with := s.noise(unkind, &r.work[unkind], elevationDeg)
	return decibels(with/clean) <= restoredDB
}

// needed returns the least attenuation in whole dB of some carriers after which
// the noise is restored; mostDB and false where there is none.
func (s *Surroundings) needed(look track.Look, these func(carrier) bool) (float64, bool) {
	enough := func(db float64) bool {
		return s.restored(s.work(look.AzimuthDeg, look.ElevationDeg, func(c carrier) float64 {
			if these(c) {
				return ratio(-db)
			}
			return 1
		}), look.ElevationDeg)
	}
	if !enough(mostDB) {
		return mostDB, false
	}
	low, high := 0.0, mostDB // not enough, enough
	for high-low > 1 {
		mid := float64(int(low+high) / 2)
		if enough(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, true
}

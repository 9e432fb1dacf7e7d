package track

import (
	"fmt"
	"math"
	"time"

	"foreaim/track/elements"
)

// Likely is how far an object may be from its elements: the time error that is
// to be expected.
type Likely struct {
	// SigmaS is the standard deviation of the time error in seconds: in about
	// 68 of 100 cases the object is less late or early than this.
	SigmaS float64
	Age    time.Duration // of the elements; negative before their epoch
	// Measured is how many differences between sets of this object the number
	// rests on; 0 where it is only what is usual.
	Measured int
	// Fresh: the object was launched days ago, and elements are still poor.
	Fresh bool
}

// LikelyError returns the time error to be expected at a time from a set of
// elements, judged by its age, its drag term and, where there is a history (all
// sets of the same object, in any order, the set itself or not), by how far its
// earlier sets were off when the later ones came. The error is NewOrbit's.
//
// It has been tried on invented histories only. What is assumed:
//   - errors are along the track; across it elements are better by far;
//   - a newer set is nearer to the truth at its epoch than an older one there,
//     and its own error is that of a set of age 0; sets that were fitted to the
//     same tracking data agree better than they are right, hence the floor;
//   - the object goes on as it did: no manoeuvre, no storm in the atmosphere
//     that the history has not seen;
//   - beyond the longest stretch that the history measures, the error grows by
//     the square root of the age faster than usual;
//   - before the epoch errors grow as they do after it.
func LikelyError(set elements.Set, history []elements.Set, at time.Time) (Likely, error) {
	usual, err := newUsualError(set)
	if err != nil {
		return Likely{}, err
	}
	l := Likely{Age: set.Age(at)}
	days := math.Abs(l.Age.Hours() / 24)
	l.Fresh = usual.fresh && days < freshDays
	l.SigmaS = usual.sigma(days)
	m := measure(usual, append([]elements.Set{set}, history...))
	if factor, n := m.factor(days); n > 0 {
		l.SigmaS *= factor
		l.Measured = n
	}
	l.SigmaS = max(l.SigmaS, floorS)
	return l, nil
}

// Words says it for people, in one phrase.
func (l Likely) Words() string {
	text := "give or take " + secondsInWords(l.SigmaS) + " along its track"
	switch {
	case l.Measured == 1:
		return text + ", by one difference between its sets"
	case l.Measured > 0:
		return fmt.Sprintf("%s, by %d differences between its sets", text, l.Measured)
	case l.Fresh:
		return text + ", as is common in the first days after a launch"
	}
	return text + ", as is common for elements of this age"
}

// secondsInWords writes "0.4 s", "12 s", "3 min 10 s" or "2 h 5 min".
func secondsInWords(s float64) string {
	switch whole := int(math.Round(s)); {
	case s < 9.95:
		return fmt.Sprintf("%.1f s", s)
	case whole < 60:
		return fmt.Sprintf("%d s", whole)
	case whole < 3600:
		return fmt.Sprintf("%d min %d s", whole/60, whole%60)
	default:
		whole = int(math.Round(s / 60))
		return fmt.Sprintf("%d h %d min", whole/60, whole%60)
	}
}

// OffDeg returns how far from its look angles at t the object stands, in
// degrees of arc, when it is lateS seconds late or early: the mean of the two.
// At a pass's peak it is about the most that a time error does in that pass.
func (o *Orbit) OffDeg(site Site, t time.Time, lateS float64) (float64, error) {
	place := newPlace(site)
	var looks [3]Look
	for i := range looks {
		var err error
		if looks[i], err = o.lookFrom(place, t, float64(i-1)*lateS); err != nil {
			return 0, err
		}
	}
	between := func(a, b Look) float64 {
		return SeparationDeg(a.AzimuthDeg, a.ElevationDeg, b.AzimuthDeg, b.ElevationDeg)
	}
	return (between(looks[0], looks[1]) + between(looks[1], looks[2])) / 2, nil
}

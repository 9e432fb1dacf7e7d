package north

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"foreaim/track"
)

// Facing is the true azimuth of straight ahead, from all references together.
type Facing struct {
	Deg      float64 // [0, 360)
	SigmaDeg float64 // standard uncertainty
	Used     []Reference
	LeftOut  []Reference // odd ones out, of three or more
	// Differences are the pairs that disagree beyond their uncertainties, the
	// largest first.
	Differences []Difference
}

// Difference is two references that disagree.
type Difference struct {
	A, B Reference
	Deg  float64 // how much, over 0
}

const (
	mostReferences = 10
	// differTimes: a disagreement is beyond uncertainty when it is this many
	// times the standard uncertainty of the difference. Two good references
	// come that far apart once in 170 times.
	differTimes = 2.75
	// leastOwnDeg is the least error that two readings don't share.
	leastOwnDeg = 0.5
	// clockSkew is how far ahead of now a reference may be.
	clockSkew = time.Minute
)

// ErrNoReference: there is nothing to combine.
var ErrNoReference = errors.New("no reference yet: straight ahead may be anywhere")

// Combine returns the facing that the references give together, at a time that
// none of them may lie ahead of.
//
// It is the mean weighted by their uncertainties, on the circle. References of
// one kind that share an error are put together first, and what they share is
// counted once. Any reference may be grossly wrong: how probable that is of each
// is worked out (see pool), and the uncertainty covers it, so that two that
// disagree give one that reaches both. With three or more the odd one out is
// named and left out. Age as such costs nothing: see Reference.MovedM.
func Combine(references []Reference, now time.Time) (Facing, error) {
	if len(references) == 0 {
		return Facing{}, ErrNoReference
	}
	if len(references) > mostReferences {
		return Facing{}, fmt.Errorf("%d references, want at most %d: drop the oldest", len(references), mostReferences)
	}
	for _, r := range references {
		if err := r.check(); err != nil {
			return Facing{}, err
		}
		if r.At.Sub(now) > clockSkew {
			return Facing{}, fmt.Errorf("%w: %s: its time %s is ahead of now; is the clock right?",
				ErrReference, r.Label(), r.At.UTC().Format(time.RFC3339))
		}
	}
	var f Facing
	var witnesses []witness
	for _, group := range grouped(references) {
		own := make([]opinion, len(group))
		for i, r := range group {
			ownDeg := math.Max(leastOwnDeg, math.Sqrt(math.Max(0, r.SigmaDeg*r.SigmaDeg-r.SharedDeg*r.SharedDeg)))
			own[i] = opinion{r.FacingDeg, math.Hypot(ownDeg, r.movedDeg())}
		}
		odd := oddOnes(own)
		var kept []Reference
		var keptOwn []opinion
		for i, r := range group {
			if slices.Contains(odd, i) {
				f.LeftOut = append(f.LeftOut, r)
				continue
			}
			kept, keptOwn = append(kept, r), append(keptOwn, own[i])
		}
		together := pool(keptOwn)
		witnesses = append(witnesses, witness{kept, opinion{together.deg, math.Hypot(together.sigma, sharedDeg(kept, keptOwn))}})
	}

	said := make([]opinion, len(witnesses))
	for i, w := range witnesses {
		said[i] = w.opinion
	}
	odd := oddOnes(said)
	var kept []opinion
	for i, w := range witnesses {
		if slices.Contains(odd, i) {
			f.LeftOut = append(f.LeftOut, w.references...)
			continue
		}
		f.Used, kept = append(f.Used, w.references...), append(kept, w.opinion)
	}
	together := pool(kept)
	f.Deg, f.SigmaDeg = together.deg, math.Min(together.sigma, unknownDeg)
	f.Differences = differences(references)
	return f, nil
}

// witness is references that stand and fall together.
type witness struct {
	references []Reference
	opinion
}

// grouped puts references of a kind that share an error together, in the order
// of their first.
func grouped(references []Reference) [][]Reference {
	var groups [][]Reference
	of := map[Kind]int{}
	for _, r := range references {
		i, ok := of[r.Kind]
		if r.SharedDeg == 0 || !ok {
			i = len(groups)
			groups = append(groups, nil)
			if r.SharedDeg > 0 {
				of[r.Kind] = i
			}
		}
		groups[i] = append(groups[i], r)
	}
	return groups
}

// sharedDeg is what the mean of a group has of the error that it shares.
func sharedDeg(group []Reference, own []opinion) float64 {
	sum, weights := 0.0, 0.0
	for i, r := range group {
		weight := 1 / (own[i].sigma * own[i].sigma)
		sum, weights = sum+weight*r.SharedDeg, weights+weight
	}
	return sum / weights
}

// differences lists the pairs that disagree beyond their uncertainties. What two
// references share doesn't excuse a difference between them.
func differences(references []Reference) []Difference {
	var all []Difference
	for i, a := range references {
		for _, b := range references[i+1:] {
			variance := square(a.SigmaDeg) + square(b.SigmaDeg) + square(a.movedDeg()) + square(b.movedDeg())
			if a.Kind == b.Kind {
				variance -= 2 * a.SharedDeg * b.SharedDeg
			}
			apart := math.Abs(track.TurnDeg(a.FacingDeg, b.FacingDeg))
			if apart > differTimes*math.Sqrt(math.Max(variance, 2*leastOwnDeg*leastOwnDeg)) {
				all = append(all, Difference{a, b, apart})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y Difference) int { return cmp.Compare(y.Deg, x.Deg) })
	return all
}

func square(x float64) float64 { return x * x }

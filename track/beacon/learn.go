package beacon

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"
)

// Mark is one burst that somebody says they heard.
type Mark struct {
	// Time is when the burst started, as far as the mark tells: the mean
	// reaction, and whatever else delays a mark, is already taken off.
	Time time.Time
	// SigmaS is the scatter of that in seconds, one standard deviation; over 0,
	// at most MaxMarkSigmaS.
	SigmaS float64
}

// Interval is a time of listening, [From, To): a burst that starts in it could
// have been heard, and then there would be a mark.
type Interval struct{ From, To time.Time }

// Prior is what is believed of a beacon before the marks.
type Prior struct {
	// Schedule is the published one. Period 0: unknown, any from a second to 20
	// minutes is thought possible. First zero: the phase is unknown; else
	// Tolerance is its standard deviation, a twentieth of the period when 0.
	// Length is passed on.
	Schedule Schedule
	// PeriodSigma is how far the true period may be from the published one, as
	// a share of it (0.001 is 0.1 %), one standard deviation; 0 exact, at most
	// MaxPeriodSigma. An unknown period needs none.
	PeriodSigma float64
	// FalseShare is how many false marks are expected in each period of
	// listening, or of all marks when the period is unknown; 0 for one in ten
	// (common practice, no source), at most 1. What the marks show counts more.
	FalseShare float64
}

// Limits of what Learn takes.
const (
	MaxMarks       = 256 // of more, the latest count
	MaxMarkSigmaS  = 60
	MaxPeriodSigma = 0.1
)

// passGap parts the marks of one pass from those of the next: no low object is
// in view for longer, and comes back later (an orbit takes 90 minutes or more).
const passGap = 20 * time.Minute

// Learn works out period and phase of a beacon from marks, in any order. It is
// a pure function of the prior, the marks and the listening. Without any
// listening given, it is taken that somebody listened from the first to the
// last mark of each pass.
//
// The model: bursts start at First + k·Period. Each that starts while somebody
// listens is marked with one unknown chance (any is as likely beforehand), at a
// normally distributed distance whose scatter may be some tenths less or more
// than stated. False marks come at any time, at an unknown rate (exponential
// prior). A published period is believed for its stated spread, but may be off
// by a few per cent, or half or twice as long, and a published phase may be
// wrong altogether. From one pass to the next the phase goes on in half of all
// beacons, and starts anew in the other half, until marks of several passes
// tell. And in one of twenty cases nothing is heard of the beacon, and all marks
// are false. Between hypotheses (which marks are false, how many periods lie
// between the others) the mixture is exact but for those hypotheses that are
// dropped on the way because they are a thousand times and more less likely
// than the best; given one, the regression on the marks is exact.
//
// It fails on a schedule, mark or interval out of range.
func Learn(prior Prior, marks []Mark, listened []Interval) (Learned, error) {
	prior, err := prior.checked()
	if err != nil {
		return Learned{}, err
	}
	order, err := inOrder(marks)
	if err != nil {
		return Learned{}, err
	}
	for i, l := range listened {
		if !inYears(l.From) || !inYears(l.To) || l.To.Before(l.From) {
			return Learned{}, fmt.Errorf("listening %d from %s to %s: give two times in order within the years %d to %d",
				i+1, l.From.UTC().Format(time.RFC3339), l.To.UTC().Format(time.RFC3339), firstYear, lastYear)
		}
	}
	s := newSearch(prior, marks, order, listened)
	return newLearned(s, len(marks), order), nil
}

// checked returns the prior with its defaults filled in.
func (p Prior) checked() (Prior, error) {
	check := p.Schedule
	if check.Period == 0 { // the only thing that Learn allows beyond a schedule
		check.Period, check.Length, check.Tolerance = MaxPeriod, 0, 0
		if !check.First.IsZero() {
			return p, fmt.Errorf("the first burst %s is given but not the period: give both, or only the period", check.First.UTC().Format(time.RFC3339))
		}
		if p.Schedule.Length < 0 {
			return p, fmt.Errorf("burst length %s is negative: give 0 if it is unknown", p.Schedule.Length)
		}
	}
	if err := check.Validate(); err != nil {
		return p, err
	}
	if !(p.PeriodSigma >= 0 && p.PeriodSigma <= MaxPeriodSigma) {
		return p, fmt.Errorf("spread of the period %g is not within 0 to %g of the period: leave out a period that is known no better", p.PeriodSigma, MaxPeriodSigma)
	}
	if !(p.FalseShare >= 0 && p.FalseShare <= 1) {
		return p, fmt.Errorf("share of false marks %g is not within 0 to 1", p.FalseShare)
	}
	if p.FalseShare == 0 {
		p.FalseShare = 0.1
	}
	if p.Schedule.Tolerance == 0 {
		p.Schedule.Tolerance = p.Schedule.Period / 20
	}
	return p, nil
}

// inOrder returns the indices of the latest MaxMarks marks, earliest first.
func inOrder(marks []Mark) ([]int, error) {
	order := make([]int, len(marks))
	for i, m := range marks {
		if !inYears(m.Time) {
			return nil, fmt.Errorf("mark %d at %s is not within the years %d to %d", i+1, m.Time.UTC().Format(time.RFC3339), firstYear, lastYear)
		}
		if !(m.SigmaS > 0 && m.SigmaS <= MaxMarkSigmaS) {
			return nil, fmt.Errorf("mark %d: scatter %g s is not over 0, at most %d s", i+1, m.SigmaS, MaxMarkSigmaS)
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(marks[a].Time.UTC().Compare(marks[b].Time.UTC()), cmp.Compare(marks[a].SigmaS, marks[b].SigmaS))
	})
	return order[max(0, len(order)-MaxMarks):], nil
}

func inYears(t time.Time) bool {
	y := t.UTC().Year()
	return firstYear <= y && y <= lastYear
}

// sinceS returns seconds from ref to t by the wall clock; both in the years
// that a Schedule allows, so that the difference fits a Duration.
func sinceS(ref, t time.Time) float64 { return t.UTC().Sub(ref).Seconds() }

// laterS is the reverse of sinceS, to the nanosecond or what a float64 holds.
func laterS(ref time.Time, s float64) time.Time {
	return ref.Add(time.Duration(math.Round(s * 1e9)))
}

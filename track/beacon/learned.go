package beacon

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// Learned is what marks and a prior tell of a beacon's schedule.
type Learned struct {
	// First is the start of the burst nearest the latest mark that fits; zero
	// when no phase is known.
	First time.Time
	// Period is the most likely one, 0 when none has even odds.
	Period time.Duration
	// The covariance of First and Period under the most likely period:
	// variances in s², and their covariance in s².
	FirstVarS2, PeriodVarS2, CovarianceS2 float64
	// PeriodSigmaS is half the 68 % interval of Period in seconds. It is less
	// than the root of PeriodVarS2 while it is possible that the published
	// period is wrong, which makes long tails.
	PeriodSigmaS float64
	// PeriodOdds is the probability of Period against the other periods, of
	// which Others lists those of 1 % or more, most likely first.
	PeriodOdds float64
	Others     []PeriodOdds
	// False holds for each mark, in the order given, the probability that it
	// was no burst of this beacon. Marks before the latest MaxMarks have 0.5:
	// they were not looked at.
	False []float64
	// CarriesOver is the probability that the phase goes on from pass to pass:
	// a half, or the published phase's odds, until marks of several Passes tell.
	CarriesOver float64
	Passes      int // in which the marks lie

	ref     time.Time
	last    float64 // time of the last mark, s after ref
	stories []story // most likely first; weights add up to 1
	length  time.Duration
}

// PeriodOdds is a period and its probability.
type PeriodOdds struct {
	Period time.Duration
	Odds   float64
}

// story is one component of the mixture: a normal distribution of the start of
// a burst and of the period (s after the reference, s, s²).
type story struct {
	weight                  float64
	at, period              float64
	varAt, covar, varPeriod float64
	phased                  bool
	carries                 float64 // probability that its phase lasts until another pass
}

// mostStories is how many components are kept: those beyond are unlikely.
const mostStories = 60

func newLearned(s *search, marks int, order []int) Learned {
	l := Learned{
		False: make([]float64, marks), Passes: s.passes,
		ref: s.ref, length: s.prior.Schedule.Length,
	}
	for i := range l.False {
		l.False[i] = 0.5
	}
	hs := s.all
	if len(order) == 0 {
		hs = s.roots(false)
	} else {
		l.last = s.marks[len(order)-1].at
	}
	weights := shares(hs)
	for j, o := range order {
		l.False[o] = 0
		for i := range hs {
			if hs[i].wrong.has(j) {
				l.False[o] += weights[i]
			}
		}
		l.False[o] = min(l.False[o], 1)
	}
	for i := range hs {
		h := &hs[i]
		t := story{weights[i], h.at, h.period, h.varAt, h.covar, h.varPeriod, h.phased && h.period > 0, 0.5}
		switch {
		case h.anew:
			t.carries = 0
		case h.published || s.passes > 1:
			t.carries = 1
		}
		l.CarriesOver += t.weight * t.carries
		l.stories = append(l.stories, t)
	}
	l.CarriesOver = min(l.CarriesOver, 1)
	l.trim()
	l.summarise()
	return l
}

// shares turns logarithms of weights into weights that add up to 1.
func shares(hs []hypothesis) []float64 {
	best := math.Inf(-1)
	for i := range hs {
		best = max(best, hs[i].logWeight)
	}
	weights := make([]float64, len(hs))
	sum := 0.0
	for i := range hs {
		weights[i] = math.Exp(hs[i].logWeight - best)
		sum += weights[i]
	}
	for i := range weights {
		weights[i] /= sum
	}
	return weights
}

func (l *Learned) trim() {
	slices.SortFunc(l.stories, func(a, b story) int { return cmp.Compare(b.weight, a.weight) })
	l.stories = l.stories[:min(len(l.stories), mostStories)]
	sum := 0.0
	for _, t := range l.stories {
		sum += t.weight
	}
	for i := range l.stories {
		l.stories[i].weight /= sum
	}
}

// samePeriod is how near two periods count as one.
const samePeriod = 1.1

// summarise finds the most likely period and, under it, the moments.
func (l *Learned) summarise() {
	type cluster struct{ centre, weight, sum float64 }
	var clusters []cluster
	for _, t := range l.stories {
		if t.period == 0 {
			continue
		}
		i := slices.IndexFunc(clusters, func(c cluster) bool { return near(t.period, c.centre) })
		if i < 0 {
			i, clusters = len(clusters), append(clusters, cluster{centre: t.period})
		}
		clusters[i].weight += t.weight
		clusters[i].sum += t.weight * t.period
	}
	slices.SortStableFunc(clusters, func(a, b cluster) int { return cmp.Compare(b.weight, a.weight) })
	centre := 0.0
	for i, c := range clusters {
		p := PeriodOdds{secondsLong(c.sum / c.weight), min(c.weight, 1)}
		switch {
		case i == 0 && c.weight >= 0.5:
			centre, l.Period, l.PeriodOdds = c.centre, p.Period, p.Odds
		case c.weight >= 0.01:
			l.Others = append(l.Others, p)
		}
	}
	if centre > 0 {
		l.moments(centre)
	}
}

func near(a, b float64) bool { return a < samePeriod*b && b < samePeriod*a }

// moments works out First, Period and their covariance over all stories of a
// period near centre, each taken to its burst nearest that of the best.
func (l *Learned) moments(centre float64) {
	var first, origin float64
	var sum, a, p, aa, ap, pp float64
	periods := mixture{}
	for _, t := range l.stories {
		if !near(t.period, centre) {
			continue
		}
		if sum == 0 { // the most likely
			origin = t.period
			first = t.at
			if t.phased && l.last > t.at {
				first += math.Round((l.last-t.at)/t.period) * t.period
			}
		}
		sum += t.weight
		dp := t.period - origin
		p += t.weight * dp
		pp += t.weight * (dp*dp + t.varPeriod)
		periods.parts = append(periods.parts, part{t.weight, dp, max(math.Sqrt(t.varPeriod), 1e-9)})
		at, varAt, covar := 0.0, t.period*t.period/12, 0.0
		if t.phased {
			k := math.Round((first - t.at) / t.period)
			at = t.at + k*t.period - first
			varAt = max(t.varAt+k*(2*t.covar+k*t.varPeriod), 0)
			covar = t.covar + k*t.varPeriod
		}
		a += t.weight * at
		aa += t.weight * (at*at + varAt)
		ap += t.weight * (at*dp + covar)
	}
	a, p, aa, ap, pp = a/sum, p/sum, aa/sum, ap/sum, pp/sum
	l.Period = secondsLong(origin + p)
	l.FirstVarS2, l.CovarianceS2, l.PeriodVarS2 = max(aa-a*a, 0), ap-a*p, max(pp-p*p, 0)
	for i := range periods.parts {
		periods.parts[i].weight /= sum
	}
	periods.span = origin / 2
	l.PeriodSigmaS = (periods.quantile(0.84) - periods.quantile(0.16)) / 2
	if f, ok := l.forecast(first + a - origin/2); ok {
		l.First = f.Time
	}
}

func secondsLong(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

// Schedule returns the schedule for use near a time: First is the first burst
// from then on, Tolerance half its 68 % interval. First is zero where the phase
// is not known (see Next), and false is returned where the period isn't.
func (l Learned) Schedule(near time.Time) (Schedule, bool) {
	s := Schedule{Period: l.Period, Length: l.length}
	if l.Period < MinPeriod || l.Period > MaxPeriod {
		return Schedule{}, false
	}
	if s.Length >= s.Period {
		s.Length = 0
	}
	if f, ok := l.Next(near); ok {
		s.First = f.Time
		s.Tolerance = min(secondsLong(f.SigmaS), s.Period/2)
	}
	return s, s.Validate() == nil
}

// Prior returns what is known at a time as the prior for marks from then on: of
// another pass, or a new outing. The phase is left out unless it lasts until
// then, and the period where none is known.
func (l Learned) Prior(at time.Time) Prior {
	s, ok := l.Schedule(at)
	if !ok {
		return Prior{Schedule: Schedule{Length: l.length}}
	}
	return Prior{Schedule: s, PeriodSigma: min(l.PeriodSigmaS/s.Period.Seconds(), MaxPeriodSigma)}
}

package review

import (
	"cmp"
	"math"
	"slices"
)

// Odds is how likely a cause was at work, with what speaks for and against it.
type Odds struct {
	Cause        Cause
	Probability  float64
	For, Against []string
}

// Together is how likely exactly these causes were at work; none: nothing was
// wrong that counts.
type Together struct {
	Causes      []Cause
	Probability float64
}

// Verdict is why less was heard than could have been.
//
// Each cause alone, each two together, and none, is a hypothesis. Its likelihood
// is that of what became of each burst that was listened to, averaged over the
// time error, heading error, margin and the ways in which the cause shows,
// times that of the noise marks, noise tests, sensor and measured frequencies
// (Bayes). So the odds of the eight causes may add up to more than 1.
type Verdict struct {
	// Given is false where the record says too little; then Bring says what to
	// bring next time, and the odds are empty.
	Given bool
	// Odds are of all eight causes, the likeliest first.
	Odds []Odds
	// Sets are the likeliest explanations, until they make 90 %.
	Sets []Together
	// NothingWrong is the probability that none of the causes was at work.
	NothingWrong float64
	Words        string
	Change       []Change // in the order of what each would give
	Bring        []string // evidence to bring next time
}

// setsMake is the share of all that Sets make up.
const setsMake = 0.9

// judge fills in the verdict and the estimates.
func (w *weigher) judge() {
	v := &w.pass.Verdict
	terms := w.terms()
	if terms == nil {
		v.Bring = []string{"What was marked fits none of the causes: check the marks, and that the record is of this satellite."}
		return
	}
	w.estimate(terms)
	w.pass.Objects = w.objects(terms)
	w.place()
	w.pass.profile = w.profiles(terms)
	byCause, sets := sumUp(terms)
	v.Given = true
	for _, s := range sets {
		if len(s.Causes) == 0 {
			v.NothingWrong = s.Probability
		}
	}
	made := 0.0
	for _, s := range sets {
		if made >= setsMake {
			break
		}
		v.Sets = append(v.Sets, s)
		made += s.Probability
	}
	fits := w.fits(terms)
	for c, p := range byCause {
		o := Odds{Cause: Cause(c), Probability: p}
		w.reasons(&o, fits)
		v.Odds = append(v.Odds, o)
	}
	slices.SortStableFunc(v.Odds, func(a, b Odds) int { return cmp.Compare(b.Probability, a.Probability) })
	v.Words = w.say(v)
	v.Change = w.changes(sets)
	v.Bring = w.bringMore(v)
}

// sumUp adds the terms up by cause and by set; the sets likeliest first.
func sumUp(terms []term) (byCause [causeCount]float64, sets []Together) {
	for _, t := range terms {
		for _, c := range t.hypothesis {
			byCause[c] += t.share
		}
		i := slices.IndexFunc(sets, func(s Together) bool { return slices.Equal(s.Causes, t.hypothesis) })
		if i < 0 {
			i, sets = len(sets), append(sets, Together{Causes: t.hypothesis})
		}
		sets[i].Probability += t.share
	}
	for c := range byCause {
		byCause[c] = math.Min(byCause[c], 1)
	}
	slices.SortStableFunc(sets, func(a, b Together) int { return cmp.Compare(b.Probability, a.Probability) })
	return byCause, sets
}

// fits is how well each cause alone explains the marks against none of them, as
// a natural logarithm; evidence beside the marks is left out.
func (w *weigher) fits(terms []term) (all [causeCount]float64) {
	hypotheses := w.limits.hypotheses()
	likely := func(h hypothesis) float64 {
		sum := 0.0
		for _, t := range terms {
			if slices.Equal(t.hypothesis, h) {
				sum += t.share
			}
		}
		n := slices.IndexFunc(hypotheses, func(o believed) bool { return slices.Equal(o.hypothesis, h) })
		sum /= hypotheses[n].prior
		for _, c := range h {
			sum *= w.direct[c].without / w.direct[c].with
		}
		return math.Log(max(sum, 1e-300))
	}
	none := likely(nil)
	for c := range all {
		all[c] = likely(hypothesis{Cause(c)}) - none
	}
	return all
}

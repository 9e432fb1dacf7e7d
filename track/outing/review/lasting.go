package review

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"
)

// Lasting is what several outings say together of an error that may stay from
// one to the other.
type Lasting struct {
	Cause Cause // North or Elements
	// How is the way in which north was found, of North: each is weighed by itself.
	How string
	// Satellite and CatalogueNumber are of Elements; Epoch is that of the elements
	// where all the outings used the same, or else zero.
	Satellite       string
	CatalogueNumber int
	Epoch           time.Time
	Outings         int
	Until           time.Time // the end of the last pass
	Mean            float64   // degrees for North, seconds for Elements; if it stays
	Sigma           float64
	// NextSigma is that of the next outing's own error, if it stays.
	NextSigma float64
	// Probability is that one error stays, against errors that each outing has by
	// itself, as usual as they are.
	Probability float64
	Same        bool // it most likely stays, is not 0, and no outing contradicts it
	Words       string
}

const (
	// ownDeg and ownS are what an error that stays differs from outing to outing.
	ownDeg, ownS = 3.0, 2.0
	// commonDeg and commonS are how large errors that stay are before anything
	// is known, standard deviations; strayShare is how often an outing's own
	// error is as large (guesses, no source).
	commonDeg, commonS = 20.0, 60.0
	strayShare         = 0.2
	// stays is how likely it must be.
	stays = 0.8
)

// lasting finds what the passes of several outings have in common.
func lasting(passes []Pass) []Lasting {
	var all []Lasting
	for _, own := range alike(passes, func(p Pass) string { return p.FacingHow }) {
		l, ok := together(own, ownDeg, commonDeg, func(p Pass) ([]float64, float64) { return p.profile.heading, p.profile.headingSigma })
		if !ok {
			continue
		}
		l.Cause, l.How = North, own[0].FacingHow
		north := "your north"
		if l.How != "" {
			north += " (" + l.How + ")"
		}
		l.Words = fmt.Sprintf("Over %d outings %s shows no error that stays.", l.Outings, north)
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings %s was %s, give or take %.0f°: that is the compass, or how you use it.", l.Outings, north, northWords(l.Mean), math.Ceil(l.Sigma))
		}
		all = append(all, l)
	}
	for _, own := range alike(passes, Pass.object) {
		l, ok := together(own, ownS, commonS, func(p Pass) ([]float64, float64) { return p.profile.late, p.profile.lateSigma })
		if !ok {
			continue
		}
		p := own[len(own)-1] // by its newest name
		l.Cause, l.Satellite, l.CatalogueNumber = Elements, p.Satellite, p.CatalogueNumber
		l.Epoch = epochOf(own)
		l.Words = fmt.Sprintf("Over %d outings %s shows no time error that stays.", l.Outings, p.Satellite)
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings %s was %s, give or take %.0f s: that is the elements.", l.Outings, p.Satellite, lateWords(l.Mean), math.Ceil(l.Sigma))
		}
		all = append(all, l)
	}
	return all
}

// object tells satellites apart: a name may change in the days after a launch.
func (p Pass) object() string {
	if p.CatalogueNumber != 0 {
		return strconv.Itoa(p.CatalogueNumber)
	}
	return p.Satellite
}

// alike sorts passes by what they have in common, in the order in which each
// comes first.
func alike(passes []Pass, of func(Pass) string) (all [][]Pass) {
	var told []string
	for _, p := range passes {
		i := slices.Index(told, of(p))
		if i < 0 {
			i, told, all = len(told), append(told, of(p)), append(all, nil)
		}
		all[i] = append(all[i], p)
	}
	return all
}

// epochOf is that of the elements which all passes that tell something used; zero
// where they used others.
func epochOf(passes []Pass) (epoch time.Time) {
	for _, p := range passes {
		switch {
		case p.profile.late == nil:
		case p.Elements == nil || !epoch.IsZero() && !epoch.Equal(p.Elements.Epoch):
			return time.Time{}
		default:
			epoch = p.Elements.Epoch
		}
	}
	return epoch
}

// together weighs one error for all outings against one for each. It needs two
// outings that say something.
func together(passes []Pass, own, common float64, of func(Pass) ([]float64, float64)) (l Lasting, ok bool) {
	outings := map[string]bool{}
	var joint []float64 // logarithms
	apart := 0.0
	for _, p := range passes {
		values, usual := of(p)
		if values == nil {
			continue
		}
		outings[p.Outing] = true
		if p.Set.Time.After(l.Until) {
			l.Until = p.Set.Time
		}
		half := float64(len(values)-1) / 2
		if joint == nil {
			joint = make([]float64, len(values))
			for i := range joint {
				joint[i] = -square((float64(i)-half)/common) / 2
			}
		}
		sum, total := 0.0, 0.0
		for i, v := range values {
			x := float64(i) - half
			b := (1-strayShare)*math.Exp(-square(x/usual)/2)/usual + strayShare*math.Exp(-square(x/common)/2)/common
			sum, total = sum+b*v, total+b
		}
		apart += math.Log(max(sum/total, 1e-300))
		for i, v := range blurred(values, own) {
			joint[i] += math.Log(max(v, 1e-300))
		}
	}
	l.Outings = len(outings)
	if l.Outings < 2 {
		return l, false
	}
	l.weigh(joint, common, apart)
	l.NextSigma = math.Hypot(l.Sigma, own)
	for _, p := range passes {
		if values, _ := of(p); values != nil && !agrees(blurred(values, own), l.Mean) {
			l.Same = false
		}
	}
	return l, true
}

// agrees tells whether an error is not out of the question for one pass.
func agrees(values []float64, mean float64) bool {
	i := int(math.Round(mean)) + (len(values)-1)/2
	return values[max(0, min(len(values)-1, i))] > outOfQuestion*slices.Max(values)
}

const outOfQuestion = 0.02

// weigh takes the logarithms of the joint likelihood and prior of an error that
// stays, and that of errors apart.
func (l *Lasting) weigh(joint []float64, common, apart float64) {
	best := slices.Max(joint)
	total, mean, second, prior := 0.0, 0.0, 0.0, 0.0
	half := float64(len(joint)-1) / 2
	for i, v := range joint {
		x := float64(i) - half
		p := math.Exp(v - best)
		total, mean, second = total+p, mean+p*x, second+p*x*x
		prior += math.Exp(-square(x/common) / 2)
	}
	mean /= total
	l.Mean, l.Sigma = mean, math.Sqrt(max(0, second/total-mean*mean)+1.0/12)
	// Even odds before.
	l.Probability = 1 / (1 + math.Exp(apart-best-math.Log(total/prior)))
	l.Same = l.Probability >= stays && math.Abs(l.Mean) > 2*l.Sigma
}

func square(x float64) float64 { return x * x }

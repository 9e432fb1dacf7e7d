package review

import (
	"fmt"
	"math"
	"slices"
)

// Lasting is what several outings say together of an error that may stay from
// one to the other.
type Lasting struct {
	Cause     Cause // North or Elements
	Satellite string
	Outings   int
	Mean      float64 // degrees for North, seconds for Elements; if it stays
	Sigma     float64
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
	if l, ok := together(passes, ownDeg, commonDeg, func(p Pass) ([]float64, float64) { return p.profile.heading, p.profile.headingSigma }); ok {
		l.Cause = North
		l.Words = fmt.Sprintf("Over %d outings your north shows no error that stays.", l.Outings)
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings your north was %s, give or take %.0f°: that is the compass, or how you use it.", l.Outings, northWords(l.Mean), math.Ceil(l.Sigma))
		}
		all = append(all, l)
	}
	var told []string
	for _, p := range passes {
		if slices.Contains(told, p.Satellite) {
			continue
		}
		told = append(told, p.Satellite)
		own := slices.DeleteFunc(slices.Clone(passes), func(o Pass) bool { return o.Satellite != p.Satellite })
		l, ok := together(own, ownS, commonS, func(p Pass) ([]float64, float64) { return p.profile.late, p.profile.lateSigma })
		if !ok {
			continue
		}
		l.Cause, l.Satellite = Elements, p.Satellite
		l.Words = fmt.Sprintf("Over %d outings %s shows no time error that stays.", l.Outings, p.Satellite)
		if l.Same {
			l.Words = fmt.Sprintf("In %d outings %s was %s, give or take %.0f s: that is the elements.", l.Outings, p.Satellite, lateWords(l.Mean), math.Ceil(l.Sigma))
		}
		all = append(all, l)
	}
	return all
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

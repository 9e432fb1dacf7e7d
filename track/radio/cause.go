package radio

import (
	"cmp"
	"math"
	"slices"
)

// Cause is why a beacon isn't heard, as far as reception here goes.
type Cause string

// The causes.
const (
	OutsideNoise Cause = "noise or a signal from outside on the channel"
	Saturation   Cause = "overload by strong signals"
	OwnNoise     Cause = "own computer, or a source close by"
	MixedProduct Cause = "a product of strong signals on the channel"
	NothingWrong Cause = "nothing wrong here"
)

var causes = []Cause{OutsideNoise, Saturation, OwnNoise, MixedProduct, NothingWrong}

// Do says in words what to do about it.
func (c Cause) Do() string {
	switch c {
	case OutsideNoise:
		return "Aim past it: another pass, or another place. No filter helps against what is on the channel itself."
	case Saturation:
		return "Less gain before the strong signals: no preamplifier, or a filter before it; else a place that doesn't see the mast."
	case OwnNoise:
		return "Carry the antenna ten steps from the computer, the car and the fence; run on batteries; move the receiver's cables."
	case MixedProduct:
		return "A filter before the preamplifier, or no preamplifier: each dB off the strong signals takes three off the product."
	}
	return "Reception is as it should be: look at aim, timing, tuning and elements, or take a higher pass."
}

// Evidence is what is known about why nothing is heard. What isn't known is left
// empty, and then counts neither way.
type Evidence struct {
	Noise string // as marked: up or normal
	// Answers of a noise test: yes, no or can't tell. Does the noise drop when the
	// antenna is turned away; when it is weakened; by much more than by that?
	TurnAway, Weaken, TooMuch string
	// Bypassed: it was weakened by taking the preamplifier out.
	Bypassed bool
	// Carried is whether the noise dropped when the antenna was carried away from
	// the computer.
	Carried string

	Floor  *Drop  // of the wanted channel, behind an attenuator
	Drops  []Drop // of the signals beside it
	Looked bool   // whether anybody looked for strong signals at all
	Stands bool   // whether something stands out on the channel itself
	// StillStands: it does so behind the attenuator too.
	StillStands bool
	Makers      []string // combinations of the signals seen that fall on the channel
	// Reckoned is what known levels do; nil without levels or figures.
	Reckoned *Overload
	Strong   []string // the strongest signals, in words, for those who may be guilty
}

// Odds is how likely a cause is among those that are reckoned with.
type Odds struct {
	Cause       Cause
	Probability float64
}

// Diagnosis is the likely cause.
type Diagnosis struct {
	Cause   Cause // empty: can't tell
	Odds    []Odds
	Reasons []string // for the likeliest, the strongest first
	Guilty  []string // signals, or combinations of them, where it is any
	Do      string   // about the cause, or to find it
}

// named is how likely a cause must be to be named, and namedNothing that all is
// well: compression doesn't show in the noise.
const named, namedNothing = 0.8, 0.9

// prior is how likely the causes are before anything was looked at, in their
// order (a guess: none is favoured much).
var prior = []float64{0.22, 0.18, 0.2, 0.18, 0.22}

// Diagnose weighs what is known: the odds of each cause by how likely each thing
// seen would be if it were so, taken as independent (Bayes). The likelihoods
// follow the physics where it decides, and are estimates elsewhere; none is so
// sure that one mistaken answer decides against all the rest.
func Diagnose(e Evidence) Diagnosis {
	seen := e.findings()
	odds := weigh(seen)
	var d Diagnosis
	for i, c := range causes {
		d.Odds = append(d.Odds, Odds{c, odds[i]})
	}
	best := slices.Index(odds, slices.Max(odds))
	for _, i := range seen.strongestFor(best) {
		d.Reasons = append(d.Reasons, i.words)
	}
	slices.SortStableFunc(d.Odds, func(a, b Odds) int { return cmp.Compare(b.Probability, a.Probability) })
	if odds[best] < named || causes[best] == NothingWrong && odds[best] < namedNothing {
		d.Do = seen.next(odds)
		return d
	}
	d.Cause, d.Do = causes[best], causes[best].Do()
	switch d.Cause {
	case Saturation:
		d.Guilty = e.Strong
	case MixedProduct:
		d.Guilty = e.Makers
	}
	return d
}

// weigh returns the probabilities of the causes.
func weigh(seen findings) []float64 {
	odds := slices.Clone(prior)
	for _, f := range seen {
		for i := range odds {
			odds[i] *= f.likely[i]
		}
	}
	total := sum(odds)
	for i := range odds {
		odds[i] /= total
	}
	return odds
}

// findings are what was seen, each with how likely it is by cause.
type findings []finding

type finding struct {
	topic  topic
	likely []float64
	words  string
}

// strongestFor returns the findings that speak for a cause, the strongest first.
func (all findings) strongestFor(cause int) findings {
	favour := func(f finding) float64 {
		others := 0.0
		for i, p := range f.likely {
			if i != cause {
				others += p / float64(len(f.likely)-1)
			}
		}
		return math.Log(f.likely[cause] / others)
	}
	var list findings
	for _, f := range all {
		if favour(f) > 0.1 {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(a, b finding) int { return cmp.Compare(favour(b), favour(a)) })
	return list
}

package radio

import (
	"fmt"
	"math"
)

// topic is one thing that can be looked at.
type topic string

const (
	noiseMark  topic = "noise"
	turnedAway topic = "turned away"
	weakened   topic = "weakened"
	tooMuch    topic = "too much"
	carried    topic = "carried away"
	floorFall  topic = "floor"
	ghostsSeen topic = "ghosts"
	squeezed   topic = "compressed"
	onChannel  topic = "on the channel"
	canMix     topic = "can mix"
	headroom   topic = "headroom"
	reckonedUp topic = "reckoned"
)

// weight is how likely an outcome is if a cause is there, in the order of causes:
// noise from outside, overload, own computer, product, nothing wrong.
type weight struct {
	topic   topic
	outcome string
	likely  []float64
	words   string
}

// weights are estimates (no source), except that what decides is physics: see
// Drop and the noise test of an outing's record.
var weights = []weight{
	{noiseMark, "up", []float64{0.95, 0.5, 0.95, 0.95, 0.04}, "the noise is marked as up"},
	{noiseMark, "normal", []float64{0.05, 0.5, 0.05, 0.05, 0.96}, "the noise is marked as normal"},

	{turnedAway, "yes", []float64{0.7, 0.4, 0.06, 0.45, 0.06}, "it drops with the antenna turned away"},
	{turnedAway, "no", []float64{0.3, 0.6, 0.94, 0.55, 0.94}, "turning the antenna away changes nothing"},

	{weakened, "yes", []float64{0.93, 0.5, 0.45, 0.94, 0.3}, "it drops when what comes in is weakened"},
	{weakened, "no", []float64{0.07, 0.5, 0.55, 0.06, 0.7}, "it stays when what comes in is weakened"},

	{tooMuch, "yes", []float64{0.05, 0.35, 0.05, 0.5, 0.03}, "it drops by much more than it was weakened"},
	{tooMuch, "no", []float64{0.95, 0.65, 0.95, 0.5, 0.97}, "it drops by no more than it was weakened"},

	{carried, "yes", []float64{0.08, 0.1, 0.7, 0.08, 0.08}, "it drops when the antenna is carried away"},
	{carried, "no", []float64{0.92, 0.9, 0.3, 0.92, 0.92}, "carrying the antenna away changes nothing"},

	// Products fall no further than to the receiver's own noise: a fall by no more
	// than was put in tells only where something is left to stand out.
	{floorFall, "more", []float64{0.02, 0.17, 0.02, 0.45, 0.01}, "the channel's noise falls by more than the attenuator: made in the receiver"},
	{floorFall, "as much, and stands", []float64{0.3, 0.06, 0.06, 0.02, 0.01}, "what is on the channel falls by as much as the attenuator, and still stands out: it comes in by the antenna"},
	{floorFall, "as much", []float64{0.24, 0.1, 0.2, 0.15, 0.05}, "the channel's noise falls by as much as the attenuator: it comes in by the antenna, or fell to the receiver's own"},
	{floorFall, "less", []float64{0.37, 0.27, 0.2, 0.33, 0.34}, "the channel's noise falls by less than the attenuator"},
	{floorFall, "not", []float64{0.06, 0.2, 0.51, 0.03, 0.57}, "the channel's noise doesn't fall behind the attenuator"},
	{floorFall, "rose", []float64{0.01, 0.2, 0.01, 0.02, 0.02}, "the channel's noise rises behind the attenuator: the receiver gets its gain back"},

	{ghostsSeen, "yes", []float64{0.12, 0.5, 0.1, 0.5, 0.06}, "other signals fall by more than the attenuator: made in the receiver"},
	{ghostsSeen, "no", []float64{0.88, 0.5, 0.9, 0.5, 0.94}, "no signal falls by more than the attenuator"},

	{squeezed, "all", []float64{0.003, 0.62, 0.004, 0.015, 0.003}, "all strong signals fall by less than the attenuator, or rise: the receiver was compressed"},
	{squeezed, "some", []float64{0.012, 0.26, 0.012, 0.06, 0.012}, "strong signals fall by less than the attenuator: the receiver was compressed"},
	{squeezed, "no", []float64{0.985, 0.12, 0.984, 0.925, 0.985}, "strong signals fall by just as much as the attenuator: nothing is compressed"},

	{onChannel, "yes", []float64{0.6, 0.25, 0.25, 0.45, 0.03}, "something stands out of the noise on the channel"},
	{onChannel, "no", []float64{0.4, 0.75, 0.75, 0.55, 0.97}, "nothing stands out of the noise on the channel"},

	{canMix, "yes", []float64{0.4, 0.5, 0.4, 0.95, 0.4}, "signals that were seen can mix onto the channel"},
	{canMix, "no", []float64{0.6, 0.5, 0.6, 0.05, 0.6}, "no signals that were seen mix onto the channel"},

	{headroom, "overloaded", []float64{0.08, 0.8, 0.08, 0.3, 0.05}, "the levels overload the chain, as reckoned"},
	{headroom, "maybe", []float64{0.27, 0.17, 0.27, 0.4, 0.25}, "the levels may overload the chain, as reckoned"},
	{headroom, "bears it", []float64{0.65, 0.03, 0.65, 0.3, 0.7}, "the chain bears the levels, as reckoned"},

	{reckonedUp, "products", []float64{0.06, 0.5, 0.06, 0.75, 0.03}, "products of the levels reach the channel above its noise, as reckoned"},
	{reckonedUp, "maybe", []float64{0.3, 0.35, 0.3, 0.22, 0.27}, "products of the levels may reach the channel, as reckoned"},
	{reckonedUp, "nothing", []float64{0.64, 0.15, 0.64, 0.03, 0.7}, "no product of the levels reaches the channel, as reckoned"},
}

// findings takes the evidence apart. What a sweep shows stands for what was
// answered about the same by eye.
func (e Evidence) findings() findings {
	var all findings
	add := func(t topic, outcome string) {
		for _, w := range weights {
			if w.topic == t && w.outcome == outcome {
				all = append(all, finding{t, w.likely, w.words})
			}
		}
	}
	add(noiseMark, e.Noise)
	add(turnedAway, e.TurnAway)
	if e.Floor == nil {
		if !e.Bypassed || e.Noise == "up" { // a preamplifier's own noise always drops with it
			add(weakened, e.Weaken)
		}
		add(tooMuch, e.TooMuch)
	}
	add(carried, e.Carried)
	if e.Floor != nil {
		add(floorFall, e.Floor.outcome(e.StillStands))
	}
	add(ghostsSeen, e.ghosts())
	add(squeezed, e.squeezed())
	if e.Looked {
		add(onChannel, yesNo(e.Stands))
		add(canMix, yesNo(len(e.Makers) > 0))
	}
	if e.Reckoned != nil {
		add(headroom, e.Reckoned.headroom())
		add(reckonedUp, e.Reckoned.reckoned())
	}
	return all
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// outcome says how a floor fell, and whether something still stands out of it.
func (d Drop) outcome(stands bool) string {
	switch {
	case d.Origin == InReceiver:
		return "more"
	case d.Origin == FromOutside && stands:
		return "as much, and stands"
	case d.Origin == FromOutside:
		return "as much"
	case d.FellDB.High < -roseDB:
		return "rose"
	case d.Origin == BehindPad:
		return "not"
	case d.FellDB.Mid() < d.PadDB:
		return "less"
	}
	return ""
}

// ghosts says whether any signal is made in the receiver; nothing where none
// could be judged.
func (e Evidence) ghosts() string {
	judged := false
	for _, d := range e.Drops {
		if d.Origin == InReceiver {
			return "yes"
		}
		judged = judged || d.Origin == FromOutside
	}
	if judged {
		return "no"
	}
	return ""
}

// squeezed says whether signals fell by too little, most of those that could be
// judged; nothing where none could.
func (e Evidence) squeezed() string {
	fell, less := 0, 0
	for _, d := range e.Drops {
		switch {
		case d.Origin == FromOutside:
			fell++
		case d.Origin == BehindPad, d.compressed(), d.FellDB.High < -roseDB:
			less++
		}
	}
	switch {
	case fell+less == 0:
		return ""
	case less < fell:
		return "no"
	case less > 1 && fell == 0:
		return "all"
	}
	return "some"
}

// roseDB is how far a level has to rise behind an attenuator to tell that the
// receiver got its gain back: its own warmth raises a quiet floor by under 2 dB.
const roseDB = 2.5

// headroom says how the stage that is worst off stands it.
func (o Overload) headroom() string {
	worst := Range{math.Inf(1), math.Inf(1)}
	for _, l := range o.Stages {
		if l.HeadroomDB.High < worst.High {
			worst.High = l.HeadroomDB.High
		}
		worst.Low = min(worst.Low, l.HeadroomDB.Low)
	}
	switch {
	case worst.High < 0:
		return "overloaded"
	case worst.Low < 0:
		return "maybe"
	}
	return "bears it"
}

// reckoned says whether products reach the channel.
func (o Overload) reckoned() string {
	switch {
	case o.ProductsDBm.Low > o.Before.NoiseDBm.High:
		return "products"
	case o.ProductsDBm.High > o.Before.NoiseDBm.Low-harmlessNoiseDB:
		return "maybe"
	}
	return "nothing"
}

// harmlessNoiseDB is how far below the noise a product does nothing: a rise of
// 0.4 dB.
const harmlessNoiseDB = 10.0

// test is something to do, and what it tells about.
type test struct {
	topics []topic
	words  string
}

var tests = []test{
	{[]topic{noiseMark}, "Listen, and mark whether the noise is up or normal: compare with another place, or with the antenna off."},
	{[]topic{turnedAway, weakened, tooMuch}, "Do the noise test between two bursts: turn the antenna away, then put an attenuator in, and say whether the noise drops."},
	{[]topic{floorFall, ghostsSeen, squeezed}, "Take the sweep twice at the same gain, without and with an attenuator of 6 to 10 dB in front of everything."},
	{[]topic{carried}, "Carry the antenna ten steps from the computer, the car and the fence, and see whether the noise drops."},
	{[]topic{onChannel, canMix}, "Take a sweep from 50 MHz below to 200 MHz above the channel, or write down the strong signals."},
}

// next returns the test not yet made that would leave the least doubt: the
// highest probability to be expected of the likeliest cause afterwards.
func (all findings) next(odds []float64) string {
	done := map[topic]bool{}
	for _, f := range all {
		done[f.topic] = true
	}
	// What a sweep shows of the floor has been answered, if not as well.
	if done[floorFall] {
		done[weakened], done[tooMuch] = true, true
	}
	best, gain := "", 0.01
	now := 0.0
	for _, p := range odds {
		now = max(now, p)
	}
	for _, t := range tests {
		sum := 0.0
		for _, topic := range t.topics {
			if !done[topic] {
				sum += expected(topic, odds) - now
			}
		}
		if sum > gain {
			best, gain = t.words, sum
		}
	}
	if best == "" {
		return "All that can be looked at here doesn't tell. Try another place or day: what doesn't follow you belongs to the place."
	}
	return fmt.Sprintf("Can't tell; do this next. %s", best)
}

// expected returns what the likeliest cause's probability will be on average when
// something has been looked at.
func expected(t topic, odds []float64) float64 {
	sum := 0.0
	for _, w := range weights {
		if w.topic == t {
			most := 0.0
			for i, p := range odds {
				most = max(most, p*w.likely[i])
			}
			sum += most
		}
	}
	return sum
}

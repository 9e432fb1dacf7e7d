package radio

import (
	"fmt"
	"slices"
)

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
	// What a sweep shows of the floor has been answered, and by the noise test the
	// other way round, if not as well.
	if done[floorFall] || done[weakenedUp] {
		done[weakened] = true
	}
	if done[floorFall] {
		done[tooMuch] = true
	}
	best, gain, now := "", 0.01, slices.Max(odds)
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
	if best == "" && slices.ContainsFunc(all, func(f finding) bool { return f.topic == canMix && f.words == noneMix }) {
		return "Can't tell; do this next. Sweep a wider range: if it is a product, what makes it was not among what was seen."
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

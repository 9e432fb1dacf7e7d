package review

// variant is one way in which a cause shows.
type variant struct {
	share   float64        // of the cause
	wild    bool           // the hand was anywhere
	audible func(int) bool // which bursts could be heard; nil: all
	drop    func(int) int  // by how many steps of dropDB a burst was drowned; nil: none
	strays  bool           // what was heard at other times was the beacon
	tuned   bool           // the receiver was off: so is what was measured
	absent  bool           // another object sends, out of sight
	rival   *rival         // this other object was heard; nil: none
}

// dropDB is a step by which noise takes off the margin.
const dropDB = 8.0

func never(int) bool { return false }

// variants returns the ways in which a cause shows. Their shares are guesses (no
// source); each adds up to 1.
func (w *weigher) variants(c Cause, s sizes) []variant {
	n := len(w.looked)
	first := func(i int) bool { return i < n/2 }
	second := func(i int) bool { return i >= n/2 }
	// Where nothing was heard at other times either, nearly the same directions
	// were silent then.
	elsewhere := never
	if len(w.pass.Strays) == 0 {
		elsewhere = nil
	}
	switch c {
	case Aim:
		return []variant{{share: 1, wild: true}}
	case Elements:
		mistake, unseen := 1-s.late.usual, w.limits.wrongObject
		if len(w.rivals) > 0 { // the rest is in rivalTerms
			unseen -= rivalShare
		}
		return []variant{{share: 1 - w.limits.wrongObject*mistake}, {share: unseen * mistake, audible: never, absent: true}}
	case Tuning:
		return w.tunings()
	case Interference:
		noisy := func(steps int) func(int) int {
			return func(i int) int {
				if w.looked[i].NoiseUp {
					return steps
				}
				return 0
			}
		}
		always := func(steps int) func(int) int { return func(int) int { return steps } }
		if w.pass.noisyShare() >= noisyMost {
			return []variant{{share: 0.5, drop: noisy(1)}, {share: 0.5, drop: noisy(2)}}
		}
		return []variant{{share: 0.5, drop: always(1)}, {share: 0.5, drop: always(2)}}
	case Transmitter:
		return []variant{
			{share: 0.5, audible: never},
			{share: 0.25, audible: elsewhere, strays: true},
			{share: 0.06, audible: func(i int) bool { return w.number[i]%2 == 0 }},
			{share: 0.06, audible: func(i int) bool { return w.number[i]%2 == 1 }},
			{share: 0.065, audible: first}, {share: 0.065, audible: second},
		}
	case NotListened:
		if w.pass.awayShare() >= awayMost {
			return []variant{{share: 1}} // they said so: those bursts aren't among the looked at
		}
		return []variant{{share: 0.5, audible: never}, {share: 0.25, audible: first}, {share: 0.25, audible: second}}
	}
	return []variant{{share: 1}}
}

// tunings are: deaf to all, tuned to one frequency while the beacon's passes by,
// or off by so much that it shows in what was measured.
func (w *weigher) tunings() []variant {
	if w.pass.FrequencyHz == 0 {
		return []variant{{share: 0.7, audible: never}, {share: 0.3, tuned: true}}
	}
	all := []variant{{share: 0.5, audible: never}, {share: 0.1, tuned: true}}
	const steps = 9
	for k := range steps {
		off := (float64(k) - (steps-1)/2) * w.settings.PassbandHz
		all = append(all, variant{share: 0.4 / steps, audible: func(i int) bool {
			d := w.dopplerHz[i] - off
			return d > -w.settings.PassbandHz && d < w.settings.PassbandHz
		}})
	}
	return all
}

// and joins two ways that show at once.
func (v variant) and(o variant) variant {
	j := variant{share: v.share * o.share, wild: v.wild || o.wild, strays: v.strays || o.strays, tuned: v.tuned || o.tuned, absent: v.absent || o.absent}
	switch {
	case v.audible == nil:
		j.audible = o.audible
	case o.audible == nil:
		j.audible = v.audible
	default:
		j.audible = func(i int) bool { return v.audible(i) && o.audible(i) }
	}
	j.drop = v.drop
	if j.drop == nil {
		j.drop = o.drop
	}
	return j
}

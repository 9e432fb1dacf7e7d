package radio

import "math"

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
		switch {
		case e.Noise == "up":
			add(weakenedUp, e.Weaken)
		case !e.Bypassed: // a preamplifier's own noise always drops with it
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

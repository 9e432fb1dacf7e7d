package review

// bring says what evidence a verdict needs, where there can't be one.
func bring(p *Pass) []string {
	var all []string
	if p.Elements == nil || p.Site == nil {
		all = append(all, "Let the program know the elements and your place before the pass: without them nothing can be said of aim, north or elements.")
	}
	if p.Schedule.Period == 0 {
		all = append(all, "Give the beacon's period, and when a burst was heard.")
	}
	if p.outside {
		return append(all, "Keep the program running from before the pass begins until it is over, and mark each burst that you hear.")
	}
	marked := p.Count(Heard) + p.Count(Silent) + p.Count(NotListening) + len(p.Strays)
	if marked == 0 {
		all = append(all, "Mark each burst that you hear, and say when you don't listen: nothing was marked in this pass.")
	}
	return append(all, "Mark when the noise goes up, and run the noise test once.")
}

// sure is how likely a cause must be not to need more evidence.
const sure = 0.8

// bringMore says what would tell the likely causes apart next time.
func (w *weigher) bringMore(v *Verdict) []string {
	p := w.pass
	if v.Odds[0].Probability >= sure && v.Odds[1].Probability < 0.3 || v.NothingWrong >= sure {
		return nil
	}
	likely := map[Cause]bool{}
	for _, o := range v.Odds {
		likely[o.Cause] = o.Probability >= 0.1
	}
	var all []string
	add := func(when bool, words string) {
		if when {
			all = append(all, words)
		}
	}
	told, _, _ := p.sensorOff(0)
	add(likely[Aim] && told == 0, "A sensor on the boom: it tells aim from north and elements.")
	add(likely[North] && p.HeadingSigmaDeg > w.limits.headingDeg/2, "A bearing of the sun or a landmark: it settles north.")
	add(likely[Interference] && len(p.Tests) == 0, "A noise test before rise: it tells noise and overload from a weak signal.")
	add(likely[Elements] && !p.Estimates.OffsetHz.Known, "The frequency of each burst heard: its change through the pass tells the time error.")
	add(likely[Tuning], "A known signal near the frequency, looked at before the pass: it settles tuning.")
	add(likely[Transmitter], "Word from somebody else who listened: it settles whether the beacon sends.")
	add(likely[NotListened], "A mark when you stop and begin to listen: then silence means silence.")
	return all
}

package review

import (
	"math"
	"slices"

	"foreaim/track"
	"foreaim/track/aim"
)

// weigher weighs the causes of one pass.
type weigher struct {
	pass      *Pass
	settings  Settings
	orbit     *track.Orbit
	looked    []Burst // that were listened to, thinned out where there are too many
	number    []int   // of each in the table, from 0
	dopplerHz []float64
	limits    limits
	tables    *tables
	coarse    *grid
	rivals    []*rival
	strays    []Burst // that are weighed
	direct    [causeCount]factor
	tests     []evidence
}

// newWeigher returns nil where there is nothing to weigh.
func newWeigher(p *Pass, s Settings, t *tables) *weigher {
	w := &weigher{pass: p, settings: s, tables: t}
	said := len(p.Noise) > 0 || len(p.Tests) > 0
	for i, b := range p.Bursts {
		said = said || b.Outcome != Unmarked
		if b.Outcome == Heard || b.Outcome == Silent {
			w.looked, w.number = append(w.looked, b), append(w.number, i)
		}
	}
	w.strays = slices.Clone(p.Strays[:min(len(p.Strays), mostStrays)])
	said = said || len(p.Strays) > 0
	if !said || p.Elements == nil || p.Site == nil || p.Schedule.Period == 0 {
		return nil
	}
	orbit, err := track.NewOrbit(*p.Elements)
	if err != nil {
		return nil
	}
	w.orbit = orbit
	if _, err := orbit.Look(*p.Site, p.Peak.Time); err != nil {
		p.Missing = append(p.Missing, "the elements can't be computed for this pass: "+err.Error())
		return nil
	}
	w.thin()
	w.pointAtElements()
	w.dopplerHz = w.doppler()
	w.limit()
	w.weighDirect()
	w.coarse = w.grid(lateAxis(w.limits.lateSigma), headingAxis())
	w.findRivals()
	return w
}

// pointAtElements has the antenna, where nobody knows of it, on the satellite by its
// elements.
func (w *weigher) pointAtElements() {
	for _, all := range [][]Burst{w.looked, w.strays} {
		for i := range all {
			if b := &all[i]; b.Source == Nowhere {
				look := w.look(b, 0)
				b.Held = aim.Direction{AzimuthDeg: look.AzimuthDeg, ElevationDeg: look.ElevationDeg}
			}
		}
	}
}

// doppler is the shift at each burst that was listened to, in Hz.
func (w *weigher) doppler() (all []float64) {
	for i := range w.looked {
		look := w.look(&w.looked[i], 0)
		all = append(all, track.ReceiveHz(w.pass.FrequencyHz, look.RangeRateKmS)-w.pass.FrequencyHz)
	}
	return all
}

// thin keeps as many bursts as are weighed, evenly chosen: all that were heard
// first.
func (w *weigher) thin() {
	for keep := mostLooked - len(w.strays); len(w.looked) > keep; {
		var looked []Burst
		var number []int
		for k := range keep {
			i := k * len(w.looked) / keep
			looked, number = append(looked, w.looked[i]), append(number, w.number[i])
		}
		w.looked, w.number = looked, number
	}
}

// mostStrays is how many bursts at unexpected times are weighed.
const mostStrays = 12

// look returns the look angles at a burst, late by so much; those of the pass's
// peak where the elements fail.
func (w *weigher) look(b *Burst, lateS float64) track.Look {
	l, err := w.orbit.LookLate(*w.pass.Site, b.Time, lateS)
	if err != nil {
		return w.pass.Peak
	}
	return l
}

// limit finds where the usual ends.
func (w *weigher) limit() {
	p, s := w.pass, w.settings
	off := offBeam * s.BeamwidthDeg
	l := limits{
		headingDeg: off, lateS: 5, lateSigma: math.Max(0.1, math.Min(600, p.Likely.SigmaS)),
		headingSigma: p.HeadingSigmaDeg, marginMean: max(-mostMarginDB, min(mostMarginDB, s.MarginDB)), marginSigma: s.MarginSigmaDB,
		wrongObject: outOfSight,
	}
	for l.lateS < 200 {
		if d, err := w.orbit.OffDeg(*p.Site, p.Peak.Time, l.lateS); err != nil || d > off {
			break
		}
		l.lateS *= 1.15
	}
	nearest := math.Inf(1)
	for _, b := range w.looked {
		if k := w.look(&b, 0).RangeKm; k > 0 {
			nearest = math.Min(nearest, k)
		}
	}
	if peak, err := w.orbit.Look(*p.Site, p.Peak.Time); err == nil {
		nearest = math.Min(nearest, peak.RangeKm)
	}
	l.marginDB = weakDB + 20*math.Log10(nearest/1000)
	w.limits = l
}

// grid makes a grid for these bursts.
func (w *weigher) grid(late, heading axis) *grid {
	g := &grid{
		late: late, heading: heading, margin: marginAxis(), tables: w.tables,
		likely: map[likelyKey][]float32{}, joint: map[jointKey][]float32{},
	}
	for i, b := range slices.Concat(w.looked, w.strays) {
		s := sight{heard: b.Outcome == Heard, stray: i >= len(w.looked), sensed: b.sensed, boom: b.Held}
		if s.heard {
			s.strength = b.Strength
		}
		for _, x := range late.at {
			look := w.look(&b, x)
			s.unit = append(s.unit, unit(aim.Direction{AzimuthDeg: look.AzimuthDeg, ElevationDeg: look.ElevationDeg}))
			s.spreadDB = append(s.spreadDB, 20*math.Log10(math.Max(1, look.RangeKm)/1000))
		}
		g.bursts = append(g.bursts, s)
	}
	return g
}

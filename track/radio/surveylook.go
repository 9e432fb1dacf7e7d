package radio

import (
	"cmp"
	"slices"
)

// look takes signals, their drops and the channel's floor from what was seen. It
// returns how well edges are known.
func (s *Survey) look(a Asked, e *Evidence) (stepMHz float64) {
	c := a.Link.channel()
	if len(a.Seen.Sweeps) == 0 {
		s.peaks(a.Seen.Peaks)
		e.Looked = len(a.Seen.Peaks) > 0
		for _, g := range s.Signals {
			if c.has(g.Band) {
				e.Stands = true
				if g.Drop != nil && e.Floor == nil {
					e.Floor, e.StillStands = g.Drop, true // it was read behind the attenuator
				}
			}
		}
		return readMHz
	}
	for i, pair := range pairs(a.Seen.Sweeps) {
		plain := pair.plain.Occupied()
		stepMHz = max(stepMHz, plain.StepMHz)
		onIt := plain.around(c)
		var drops []Drop
		if pair.padded != nil {
			behind := pair.padded.Occupied()
			drops = Drops(plain, behind)
			if d, both := FloorDrop(plain, behind, onIt.lowMHz, onIt.highMHz); both && e.Floor == nil {
				e.Floor = &d
				e.StillStands = behind.stands(c)
			}
		}
		for _, b := range plain.signals() {
			g := Signal{Band: b, Setting: pair.plain.Setting}
			if k := slices.IndexFunc(drops, func(d Drop) bool { return d.LowMHz == b.LowMHz }); k >= 0 {
				g.Drop = &drops[k]
			}
			if i == 0 || !slices.ContainsFunc(s.Signals, func(o Signal) bool { return o.LowMHz < b.HighMHz && b.LowMHz < o.HighMHz }) {
				s.Signals = append(s.Signals, g)
			}
		}
		e.Stands = e.Stands || plain.stands(c)
		e.Looked = e.Looked || len(plain.parts) > 0
	}
	return stepMHz
}

// has says whether a band, or a carrier without a width, is on a channel.
func (c channel) has(b Band) bool {
	return c.touches(b.LowMHz, b.HighMHz) || b.LowMHz == b.HighMHz && b.LowMHz >= c.lowMHz && b.LowMHz <= c.highMHz
}

// stands says whether anything stands out of a sweep on a channel.
func (o Occupancy) stands(c channel) bool {
	return slices.ContainsFunc(o.Bands, func(b Band) bool { return c.touches(b.LowMHz, b.HighMHz) }) ||
		slices.ContainsFunc(o.Lines, func(l Point) bool { return l.MHz > c.lowMHz-o.StepMHz && l.MHz < c.highMHz+o.StepMHz })
}

// around returns what of a sweep stands for a channel: some points on either side
// of it, or those of the band or the line that covers it.
func (o Occupancy) around(c channel) channel {
	wide := channel{lowMHz: c.lowMHz - channelSteps*o.StepMHz, highMHz: c.highMHz + channelSteps*o.StepMHz}
	for _, b := range o.Bands {
		if c.touches(b.LowMHz, b.HighMHz) {
			wide.lowMHz, wide.highMHz = b.LowMHz, b.HighMHz
		}
	}
	for _, l := range o.Lines {
		if l.MHz > c.lowMHz-2*o.StepMHz && l.MHz < c.highMHz+2*o.StepMHz {
			wide.lowMHz, wide.highMHz = l.MHz-o.StepMHz/2, l.MHz+o.StepMHz/2
		}
	}
	return wide
}

// peaks takes signals from what was read by eye, each at its least attenuation
// and in the direction where it was strongest.
func (s *Survey) peaks(all []Peak) {
	drops := PeakDrops(all)
	sorted := slices.SortedStableFunc(slices.Values(all), func(a, b Peak) int {
		return cmp.Or(cmp.Compare(a.AttenuatorDB, b.AttenuatorDB), cmp.Compare(b.Level, a.Level))
	})
	var taken []Peak
	for _, p := range sorted {
		if slices.ContainsFunc(taken, p.same) {
			continue
		}
		taken = append(taken, p)
		g := Signal{Band: Band{LowMHz: p.LowMHz, HighMHz: p.HighMHz, Level: p.Level, TopLevel: p.Level}, Setting: p.Setting}
		if k := slices.IndexFunc(drops, func(d Drop) bool { return d.LowMHz == p.LowMHz && d.HighMHz == p.HighMHz }); k >= 0 {
			g.Drop = &drops[k]
		}
		s.Signals = append(s.Signals, g)
	}
}

// pair is a sweep and what it is behind an attenuator, if that was taken.
type pair struct{ plain, padded *Sweep }

// pairs returns the sweep of least attenuation for each way of holding the
// antenna and of the preamplifier, those with a second one first. Of several
// attenuators the smallest tells most: products fall into the noise soon.
func pairs(sweeps []Sweep) []pair {
	var all []pair
	for i := range sweeps {
		s := &sweeps[i]
		at := slices.IndexFunc(all, func(p pair) bool {
			return p.plain.AzimuthDeg == s.AzimuthDeg && p.plain.Preamplifier == s.Preamplifier
		})
		if at < 0 {
			all = append(all, pair{plain: s})
			continue
		}
		p := &all[at]
		if s.AttenuatorDB < p.plain.AttenuatorDB {
			p.plain, s = s, p.plain
		}
		if p.padded == nil || s.AttenuatorDB < p.padded.AttenuatorDB {
			p.padded = s
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		switch {
		case a.padded != nil && b.padded == nil:
			return -1
		case a.padded == nil && b.padded != nil:
			return 1
		}
		return 0
	})
	return all
}

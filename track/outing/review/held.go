package review

import (
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
)

const (
	// sensorStill is how old the last reading of a sensor may be at a burst: a
	// boom that is held still gives no new ones.
	sensorStill = time.Minute
	// sensorNext is how soon after it the next one counts where there is none.
	sensorNext = 2 * time.Second
)

// hold finds out where the antenna was held for each burst.
func (p *Pass) hold(t *tape) {
	facing, _ := last(t.facings, p.Set.Time)
	for i := range p.Bursts {
		b := &p.Bursts[i]
		if a, ok := advised(t.advice, b.Time); ok {
			b.Advised, b.AdvisedSet = a, true
			if b.Source == Nowhere {
				b.Held, b.Source = a, ByAdvice
			}
		}
		for _, h := range nearby(t.holds, b.Time, p.Schedule.Period) {
			e := h.entry
			if e.Time.Sub(b.Time).Abs() < near && e.AzimuthDeg.Known && e.ElevationDeg.Known {
				b.Held, b.Source = aim.Direction{AzimuthDeg: e.AzimuthDeg.Value, ElevationDeg: e.ElevationDeg.Value}, ByHold
				if !b.AdvisedSet {
					b.Advised, b.AdvisedSet = b.Held, true
				}
			}
		}
		b.turn(t.corrected(b.Time, p.Set.Time))
		if d, ok := sensedAt(t.sensor, b.Time, facing); ok {
			b.Held, b.Source, b.sensed = d, BySensor, true
		}
	}
	for i := range p.Strays {
		b := &p.Strays[i]
		if a, ok := advised(t.advice, b.Time); ok && b.Source == Nowhere {
			b.Held, b.Source = a, ByAdvice
		}
		b.turn(t.corrected(b.Time, p.Set.Time))
		if d, ok := sensedAt(t.sensor, b.Time, facing); ok {
			b.Held, b.Source, b.sensed = d, BySensor, true
		}
	}
}

// corrected returns by how many degrees the facing was corrected between two times:
// turned by hand, or found better, while the operator stood as before. One that was
// typed is another one.
func (t *tape) corrected(from, to time.Time) (deg float64) {
	for i := 1; i < len(t.facings); i++ {
		was, is := t.facings[i-1].entry, t.facings[i]
		if is.at.After(from) && !is.at.After(to) && is.entry.How != "typed" && was.AzimuthDeg.Known && is.entry.AzimuthDeg.Known {
			deg += track.TurnDeg(was.AzimuthDeg.Value, is.entry.AzimuthDeg.Value)
		}
	}
	return deg
}

// turn has the directions as the operator believes them by the end of the pass.
func (b *Burst) turn(deg float64) {
	b.Held.AzimuthDeg = track.Wrap360(b.Held.AzimuthDeg + deg)
	b.Advised.AzimuthDeg = track.Wrap360(b.Advised.AzimuthDeg + deg)
}

// nearby returns the entries within a period and a minute of a time.
func nearby[E any](all []timed[E], at time.Time, period time.Duration) []timed[E] {
	reach := min(period, 10*time.Minute) + time.Minute
	i, _ := slices.BinarySearchFunc(all, at.Add(-reach), func(t timed[E], at time.Time) int { return t.at.Compare(at) })
	j, _ := slices.BinarySearchFunc(all, at.Add(reach), func(t timed[E], at time.Time) int { return t.at.Compare(at) })
	return all[i:j]
}

// advised returns the last advice for a burst before it began.
func advised(all []timed[outing.AdviceEntry], burst time.Time) (d aim.Direction, ok bool) {
	i, _ := slices.BinarySearchFunc(all, burst.Add(1), func(t timed[outing.AdviceEntry], at time.Time) int { return t.at.Compare(at) })
	for _, a := range slices.Backward(all[max(0, i-200):i]) {
		e := a.entry
		if e.AzimuthDeg.Known && e.ElevationDeg.Known && e.Time.Sub(burst).Abs() < near {
			return aim.Direction{AzimuthDeg: e.AzimuthDeg.Value, ElevationDeg: e.ElevationDeg.Value}, true
		}
	}
	return d, false
}

// sensedAt returns where a sensor on the boom pointed at a burst, as the facing
// corrects it.
func sensedAt(all []timed[outing.SensorEntry], burst time.Time, facing outing.FacingEntry) (d aim.Direction, ok bool) {
	i, _ := slices.BinarySearchFunc(all, burst, func(t timed[outing.SensorEntry], at time.Time) int { return t.at.Compare(at) })
	if i > 0 && burst.Sub(all[i-1].at) <= sensorStill {
		if d, ok = pointing(all[i-1].entry, facing); ok {
			return d, true
		}
	}
	if i < len(all) && all[i].at.Sub(burst) <= sensorNext {
		return pointing(all[i].entry, facing)
	}
	return d, false
}

// pointing is what a sensor tells in the operator's own azimuths.
func pointing(e outing.SensorEntry, facing outing.FacingEntry) (d aim.Direction, ok bool) {
	azimuth, elevation := e.TrueDeg.Value, e.PitchDeg.Value+facing.SensorPitchOffsetDeg.Value
	switch {
	case !e.PitchDeg.Known || !(elevation >= -90 && elevation <= 90):
		return d, false
	case e.TrueDeg.Known:
	case e.MagneticDeg.Known:
		azimuth = e.MagneticDeg.Value + facing.DeclinationDeg.Value
	default:
		return d, false
	}
	return aim.Direction{AzimuthDeg: track.Wrap360(azimuth + facing.SensorOffsetDeg.Value), ElevationDeg: elevation}, true
}

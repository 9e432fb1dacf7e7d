package review

import (
	"math"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// facts are what speaks for or against causes beside the bursts themselves.
type facts struct {
	noise []outing.Mark
	keys  int           // how many bursts were marked by key
	heard []beacon.Mark // what the marks say of the times, whatever the schedule says
}

// checks takes what noise tests found.
func (p *Pass) checks(all []timed[outing.CheckEntry], from, to time.Time) {
	for _, c := range all {
		e := c.entry
		if e.List == outing.ListTriage && e.Item == "finding" && !c.at.Before(from) && !c.at.After(to) {
			p.Tests = append(p.Tests, Test{c.at, outing.Cause(e.Answer), string(e.Words)})
		}
	}
}

// awayShare is the share of the bursts that nobody listened to, as was said.
func (p *Pass) awayShare() float64 {
	if len(p.Bursts) == 0 {
		return 0
	}
	return float64(p.Count(NotListening)) / float64(len(p.Bursts))
}

// noisyShare is the share of the pass in which the noise was marked as up.
func (p *Pass) noisyShare() float64 {
	sum := time.Duration(0)
	for _, s := range p.Noise {
		from, to := s.From, s.To
		if from.Before(p.Rise.Time) {
			from = p.Rise.Time
		}
		if to.After(p.Set.Time) {
			to = p.Set.Time
		}
		sum += max(0, to.Sub(from))
	}
	if d := p.Set.Time.Sub(p.Rise.Time); d > 0 {
		return sum.Seconds() / d.Seconds()
	}
	return 0
}

// sensorOff returns for how many bursts a sensor told where the boom was, and for
// how many of these it was further than a distance in degrees from the advice.
func (p *Pass) sensorOff(farDeg float64) (told, off int, meanDeg float64) {
	for _, b := range p.Bursts {
		if !b.sensed || !b.AdvisedSet || b.Outcome != Heard && b.Outcome != Silent {
			continue
		}
		told++
		d := track.SeparationDeg(b.Held.AzimuthDeg, b.Held.ElevationDeg, b.Advised.AzimuthDeg, b.Advised.ElevationDeg)
		meanDeg += d
		if d > farDeg {
			off++
		}
	}
	return told, off, meanDeg / math.Max(1, float64(told))
}

// straysAgree returns how many bursts were heard where none was expected, and
// whether they keep the beacon's period among themselves.
func (p *Pass) straysAgree() (n int, agree bool) {
	n = len(p.Strays)
	if n < 2 || p.Schedule.Period <= 0 {
		return n, false
	}
	first, together := p.Strays[0].Time, 0
	for _, s := range p.Strays[1:] {
		off := math.Remainder(s.Time.Sub(first).Seconds(), p.Schedule.Period.Seconds())
		if math.Abs(off) < 2.5 {
			together++
		}
	}
	return n, 3*together >= 2*(n-1)
}

// strayShift is how many seconds after the expected bursts those began that agree:
// the middle one of them.
func (p *Pass) strayShift() float64 {
	var all []float64
	for _, s := range p.Strays {
		off := math.Mod(s.Time.Sub(p.Schedule.First).Seconds(), p.Schedule.Period.Seconds())
		if off < 0 {
			off += p.Schedule.Period.Seconds()
		}
		all = append(all, off)
	}
	slices.Sort(all)
	return all[len(all)/2]
}

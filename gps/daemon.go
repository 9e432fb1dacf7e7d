package gps

import (
	"fmt"
	"math"
	"time"
)

// daemonBaud is the slowest usual speed of the line behind a daemon, bit/s.
const daemonBaud = 4800

// fix takes a fix that a source decoded itself. leapKnown tells that its time
// already carries the right leap seconds. Values out of range are refused.
func (d *decoder) fix(f Fix, leapKnown bool) {
	d.clock.tick(f.Received)
	d.last = f.Received
	if !(math.Abs(f.LatitudeDeg) <= 90 && math.Abs(f.LongitudeDeg) <= 180) || math.IsInf(f.AltitudeM, 0) || math.IsNaN(f.AltitudeM) {
		d.rejected++
		return
	}
	d.sentences++
	s := sentence{quality: f.Quality, position: true, latitudeDeg: f.LatitudeDeg, longitudeDeg: f.LongitudeDeg, satellites: -1}
	if s.quality == "" {
		s.quality = none
	}
	d.epoch, d.before = newEpoch(s, f.Received), d.newest
	d.position(s)
	if !d.epoch.accepted {
		return
	}
	utc := f.Time
	f.Time = time.Time{}
	d.newest = f
	d.epoch.utc = utc
	if leapKnown {
		d.leap.settle()
	}
	d.time(cycleDelay())
}

// arrival takes the moment that a sentence named and when it arrived, measured
// by a source that decodes itself: better than the arrival of its fixes.
func (d *decoder) arrival(utc, at time.Time) {
	d.clock.tick(at)
	d.last, d.arrivedAt = at, at
	d.sentences++
	if d.present() && judgeDate(utc, d.notBefore) == "" {
		d.sample(utc, at, lineDelay(daemonBaud))
	}
}

// pulse takes a pulse-per-second measurement of the clock's offset. A pulse
// doesn't say which second it begins: one that contradicts the sentences is not
// used.
func (d *decoder) pulse(offsetS, uncertaintyS float64, at time.Time) {
	d.clock.tick(at)
	d.last = at
	if math.IsNaN(offsetS) || math.Abs(offsetS) > 1e10 || !(uncertaintyS >= 0 && uncertaintyS < 10) {
		d.rejected++
		return
	}
	d.sentences++
	known := d.clock.clock
	if apart := offsetS - known.OffsetS; known.Known && math.Abs(apart) > known.UncertaintyS+0.5 {
		d.note, d.noteAt = fmt.Sprintf("the pulse is %+.1f s from the sentences: not used", apart), at
		return
	}
	d.clock.pulse = Clock{Known: true, OffsetS: offsetS, UncertaintyS: uncertaintyS + driftPerS, At: at}
}

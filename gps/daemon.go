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
	if !(math.Abs(f.LatitudeDeg) <= 90 && math.Abs(f.LongitudeDeg) <= 180 && math.Abs(f.AltitudeM) <= 1e5) {
		d.rejected++
		return
	}
	if !(f.HDOP > 0 && f.HDOP < 99) {
		f.HDOP = 0 // not known
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
// by a source that decodes itself. It is less delayed than its fixes.
func (d *decoder) arrival(utc, at time.Time) {
	d.clock.tick(at)
	d.last = at
	d.sentences++
	if d.present() && judgeDate(utc, d.notBefore) == "" {
		d.sample(utc, at, lineDelay(daemonBaud))
	}
}

// pulse takes a pulse-per-second measurement of the clock's offset, with one
// standard deviation. A pulse doesn't say which second it begins: one that
// contradicts the sentences is not used, nor one as wide as half a second.
func (d *decoder) pulse(offsetS, uncertaintyS float64, at time.Time) {
	d.clock.tick(at)
	d.last = at
	if !(math.Abs(offsetS) <= 1e10 && uncertaintyS >= 0 && uncertaintyS < 0.5) {
		d.rejected++
		return
	}
	d.sentences++
	p := Clock{Known: true, OffsetS: offsetS, UncertaintyS: 2 * uncertaintyS, At: at.Round(0)}
	if !d.clock.fits(p) {
		apart := p.OffsetS - d.clock.found.OffsetS
		d.note, d.noteAt = fmt.Sprintf("the pulse is %+.1f s from the sentences: not used", apart), at
		return
	}
	d.clock.pulse = p
}

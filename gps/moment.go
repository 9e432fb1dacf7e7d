package gps

import (
	"fmt"
	"math"
	"time"

	"github.com/adrianmo/go-nmea"
)

// date finds the full time of the epoch. A date counts only with a fix: before
// it, receivers send what their own clock has made of it. ZDA doesn't say
// whether there is one.
func (d *decoder) date(s sentence, arrived time.Time) {
	e := &d.epoch
	if !s.timeKnown {
		return
	}
	trusted := measured(s.quality) || s.kind == nmea.TypeZDA && d.present()
	switch {
	case trusted && !s.date.IsZero():
		d.calendar.set(s.date, s.timeOfDay, arrived)
		e.utc = d.calendar.utc
	case e.utc.IsZero():
		e.utc = d.calendar.join(s.timeOfDay, arrived)
	}
}

// position judges what a sentence says about the place and takes it over.
func (d *decoder) position(s sentence) {
	e := &d.epoch
	switch {
	case s.quality == simulated:
		d.refuse(s.quality, "the receiver only simulates a position: not used")
	case s.quality == none || !s.position:
		d.refuse(none, "")
	case s.latitudeDeg == 0 && s.longitudeDeg == 0:
		d.refuse(none, "position 0, 0 is what a receiver without a fix says: not used")
	case e.refused:
	case !d.path.believe(point{s.latitudeDeg, s.longitudeDeg, e.timeKnown, e.timeOfDay, e.arrived}):
		d.positionProblem = fmt.Sprintf("position jumped %.1f km: not used until it is repeated",
			d.path.candidate.distanceM(d.path.last)/1000)
	default:
		d.accept(s)
	}
}

// refuse takes back what the epoch gave: one sentence that says there is no fix
// outweighs the others.
func (d *decoder) refuse(quality, problem string) {
	d.epoch.refused, d.epoch.accepted = true, false
	d.newest, d.fixedAt = d.before, time.Time{}
	if !d.newest.Valid() {
		d.newest = Fix{Quality: quality, Received: d.epoch.arrived}
	}
	d.positionProblem = problem
	d.leap.search(d.epoch.arrived)
}

// accept makes a sentence's position the newest fix. What RMC and GLL don't
// tell is kept from the sentences around them.
func (d *decoder) accept(s sentence) {
	e := &d.epoch
	f := Fix{Quality: s.quality}
	if e.arrived.Sub(d.detailedAt).Abs() <= keepAge && d.newest.Valid() {
		f = d.newest
		if !measured(f.Quality) || !measured(s.quality) {
			f.Quality = s.quality
		}
	}
	f.Time = time.Time{}
	if e.accepted {
		f.Time = d.newest.Time
	}
	f.Received = e.arrived
	f.LatitudeDeg, f.LongitudeDeg = s.latitudeDeg, s.longitudeDeg
	if s.kind == nmea.TypeGGA || s.kind == nmea.TypeGNS {
		f.Quality = s.quality
		f.SatellitesUsed, f.HDOP = max(s.satellites, 0), s.hdop
		d.height(&f, s)
		d.detailedAt = e.arrived
	}
	d.newest, d.fixedAt, d.positionProblem = f, e.arrived, ""
	e.accepted = true
	d.leap.found(e.arrived, false)
}

// height sets the height above the ellipsoid. In two dimensions the receiver
// has assumed it.
func (d *decoder) height(f *Fix, s sentence) {
	f.AltitudeKnown = s.altitudeKnown && d.dimensions != 2
	f.AltitudeM, f.AltitudeUncertaintyM = 0, 0
	switch {
	case !f.AltitudeKnown:
	case s.geoidKnown:
		f.AltitudeM = s.altitudeM + s.geoidM
	default:
		f.AltitudeM, f.AltitudeUncertaintyM = s.altitudeM, geoidM
	}
}

// time uses the epoch's time once it is known and a fix stands behind it.
func (d *decoder) time(delay delay) {
	e := &d.epoch
	if e.sampled || !e.accepted || e.utc.IsZero() || !measured(d.newest.Quality) {
		return
	}
	e.sampled = true
	if d.timeProblem = judgeDate(e.utc, d.notBefore); d.timeProblem != "" {
		return
	}
	d.newest.Time = e.utc
	d.sample(e.utc, e.arrived, delay)
}

// sample gives the clock one reading and speaks of it when it has jumped.
func (d *decoder) sample(utc, arrived time.Time, delay delay) {
	step := d.clock.add(utc, arrived, delay)
	if step == 0 {
		return
	}
	d.note, d.noteAt = fmt.Sprintf("the clock's error changed by %+.1f s: the computer's clock was set", step), arrived
	if whole := math.Round(step); math.Abs(step-whole) < 0.35 && math.Abs(whole) <= 20 {
		d.note += ", or the receiver has just learnt the leap seconds"
		d.leap.settle()
	}
}

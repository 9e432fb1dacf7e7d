package gps

import (
	"fmt"
	"math"
	"time"
)

const (
	// fastest is the speed in m/s, and slack the distance in metres, up to
	// which a new position is believed at once. Nobody carries an antenna
	// faster; the slack covers a first fix that is still settling.
	fastest, slack = 400, 200
	// repeated is how many moments in a row have to confirm a jump.
	repeated = 3
	// rollOver is when the ten-bit week number of GPS begins again at 0
	// (IS-GPS-200: 1024 weeks).
	rollOver = 1024 * 7 * 24 * time.Hour
	// believedYears is how far after Options.NotBefore a date is believed, and
	// rolledYears how far one that the roll-over is to explain would have to be.
	believedYears, rolledYears = 30, 10
	// almanacTime is how long the satellites take to send everything once, the
	// leap seconds with it (IS-GPS-200: 25 frames of 30 s).
	almanacTime = 750 * time.Second
	// coldSearch is a search so long that the receiver may have started without
	// knowing the leap seconds. From memory: cold starts take over 30 s.
	coldSearch = 30 * time.Second
	// leapS is how far the leap seconds in an old receiver's firmware can be
	// behind: three were added between 2012 and 2017, none since.
	leapS = 3
)

// buildDate is the default of Options.NotBefore.
func buildDate() time.Time { return time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC) }

// judgeDate tells what is wrong with a date; nothing when it can be believed.
func judgeDate(utc, notBefore time.Time) string {
	within := func(t time.Time, years int) bool {
		return !t.Before(notBefore) && t.Before(notBefore.AddDate(years, 0, 0))
	}
	day := utc.Format(time.DateOnly)
	switch {
	case within(utc, believedYears):
		return ""
	case within(utc.Add(rollOver), rolledYears) || within(utc.Add(2*rollOver), rolledYears):
		return fmt.Sprintf("date %s looks like the 1024-week roll-over of an old receiver: position used, time not", day)
	case utc.Before(notBefore):
		return fmt.Sprintf("date %s is before this program was made: position used, time not", day)
	}
	return fmt.Sprintf("date %s is too far ahead: position used, time not", day)
}

// point is a position at a moment.
type point struct {
	latitudeDeg, longitudeDeg float64
	timeKnown                 bool
	timeOfDay                 time.Duration
	arrived                   time.Time // names the moment, too
}

// path decides which positions are believed.
type path struct {
	last      point // believed
	candidate point // after a jump
	known     bool
	count     int // moments that agree with the candidate
}

// believe tells whether a position can be used; after a jump, once it has been
// repeated.
func (p *path) believe(next point) bool {
	if p.known && !next.reachable(p.last) {
		switch {
		case p.count == 0 || !next.reachable(p.candidate):
			p.count = 1
		case !next.arrived.Equal(p.candidate.arrived):
			p.count++
		}
		p.candidate = next
		if p.count < repeated {
			return false
		}
	}
	p.last, p.known, p.count = next, true, 0
	return true
}

// reachable tells whether one can have got here from there in the time between.
func (p point) reachable(there point) bool {
	between := p.arrived.Sub(there.arrived).Abs()
	if p.timeKnown && there.timeKnown {
		// A file may be replayed faster than it was recorded.
		apart := (p.timeOfDay - there.timeOfDay).Abs()
		between = max(between, min(apart, (24*time.Hour-apart).Abs()))
	}
	return p.distanceM(there) <= slack+fastest*between.Seconds()
}

// distanceM is the distance on a sphere of 6371 km, good to 0.6 %.
func (p point) distanceM(there point) float64 {
	const rad = math.Pi / 180
	sin2 := func(deg float64) float64 { s := math.Sin(deg * rad / 2); return s * s }
	a := sin2(p.latitudeDeg-there.latitudeDeg) +
		math.Cos(p.latitudeDeg*rad)*math.Cos(there.latitudeDeg*rad)*sin2(p.longitudeDeg-there.longitudeDeg)
	return 2 * 6371e3 * math.Asin(math.Sqrt(min(a, 1)))
}

// leapWatch doubts the leap seconds of a receiver that has just started.
type leapWatch struct {
	searching time.Time // since when it has no fix; zero: has one, or not known
	settled   bool      // the first fix has come and been judged
	until     time.Time // doubted until then
}

// search notes that there is no fix.
func (l *leapWatch) search(now time.Time) {
	if l.searching.IsZero() {
		l.searching = now
	}
}

// found notes a fix. known tells that the source is sure of the leap seconds.
func (l *leapWatch) found(now time.Time, known bool) {
	if known {
		l.settle()
	}
	if !l.settled && !l.searching.IsZero() && now.Sub(l.searching) >= coldSearch {
		l.until = now.Add(almanacTime)
	}
	l.settled, l.searching = true, time.Time{}
}

// settle ends the doubt.
func (l *leapWatch) settle() { l.settled, l.until = true, time.Time{} }

// widen adds to the uncertainty of a clock while the leap seconds are doubted.
// A computer that agrees with the receiver to half a second has had its time
// from elsewhere: two clocks don't err by the same whole seconds.
func (l *leapWatch) widen(c Clock, now time.Time) (Clock, bool) {
	if !c.Known || !now.Before(l.until) || math.Abs(c.OffsetS) < c.UncertaintyS+0.5 {
		return c, false
	}
	c.UncertaintyS += leapS
	return c, true
}

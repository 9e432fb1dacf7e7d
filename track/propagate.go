package track

import (
	"fmt"
	"math"
	"time"

	satellite "github.com/joshuaferrara/go-satellite"

	"foreaim/track/elements"
)

// WGS-72 constants of SGP4.
const (
	sgp4RadiusKm = 6378.135
	sgp4MuKm3S2  = 398600.8
	sgp4J2       = 0.001082616
)

// maxSpan bounds the distance from the epoch: the propagator's cost grows
// with it for deep-space orbits, and far less than this is already useless.
const maxSpan = 50 * 365.25 * 24 * time.Hour

// Orbit propagates one element set. It is safe for use by several goroutines:
// nothing in it changes after NewOrbit (the library works on a copy).
//
// The library drops fractions of seconds in epochs and in times. So the epoch
// it gets is the nearest whole second (which moves only the sun's, the moon's
// and the Earth's angle in its deep-space terms, by under 0.002°), and it is
// asked for whole seconds after the epoch, with interpolation between.
type Orbit struct {
	set     elements.Set
	epoch   time.Time // the true one
	sat     satellite.Satellite
	y, m, d int     // the library's epoch: date
	second  int     // and second of the day
	julian  float64 // its Julian date as the library rounds it
	periodS float64 // anomalistic, at epoch
	drag    drag
}

// NewOrbit prepares a set for propagation. It refuses, with an error that says
// why, sets that the propagator can't do: values out of range (ErrElements)
// and perigees below 156 km (ErrLowPerigee).
func NewOrbit(set elements.Set) (*Orbit, error) {
	if err := checkRanges(set); err != nil {
		return nil, err
	}
	mean := unKozai(set)
	if perigee := (mean.a*(1-mean.e) - 1) * sgp4RadiusKm; perigee < 156 {
		return nil, fmt.Errorf("%s: %w: perigee height is %.1f km; it comes down within days, take newer elements or another source of positions",
			label(set), ErrLowPerigee, perigee)
	}
	o := &Orbit{set: set, epoch: set.Epoch.UTC(), periodS: 60 * 2 * math.Pi / mean.n, drag: newDrag(mean)}

	whole := o.epoch.Round(time.Second)
	if whole.Year() > lastYear { // the last half second of the last year that two digits can say
		whole = whole.Add(-time.Second)
	}
	// The half second keeps the cut from flipping to the second before.
	line1, line2 := lines(set, whole.Add(500*time.Millisecond))
	o.sat = satellite.TLEToSat(line1, line2, satellite.GravityWGS72)
	var month time.Month
	o.y, month, o.d = whole.Date()
	o.m = int(month)
	hour, minute, second := whole.Clock()
	o.second = hour*3600 + minute*60 + second
	o.julian = satellite.JDay(o.y, o.m, o.d, hour, minute, second)
	return o, nil
}

// Elements returns the set that the orbit was made from.
func (o *Orbit) Elements() elements.Set { return o.set }

// Vector is x, y, z.
type Vector [3]float64

// State is a position in km and a velocity in km/s, in TEME.
type State struct {
	PositionKm  Vector
	VelocityKmS Vector
}

// State returns where the object is at t, in TEME. Between whole seconds from
// the epoch it interpolates (cubic Hermite); that costs well under a
// millimetre, and 0.05 m/s, by which the model's velocity is not quite the
// derivative of its position. The error, if any, is a *TimeError.
func (o *Orbit) State(t time.Time) (State, error) {
	since := t.Sub(o.epoch)
	if since > maxSpan || since < -maxSpan {
		return State{}, o.timeError(t, ErrTooFar)
	}
	k := int64(since / time.Second)
	rest := since % time.Second
	if rest < 0 {
		k--
		rest += time.Second
	}
	a, err := o.at(k)
	if err != nil || rest == 0 {
		return a, err
	}
	b, err := o.at(k + 1)
	if err != nil {
		return State{}, err
	}
	return between(a, b, rest.Seconds()), nil
}

// at returns the state k whole seconds after the true epoch.
func (o *Orbit) at(k int64) (State, error) {
	minutes := float64(k) / 60
	if err := o.drag.check(minutes); err != nil {
		return State{}, o.timeError(o.timeOf(k), err)
	}
	sec := o.second + int(k)
	p, v := satellite.Propagate(o.sat, o.y, o.m, o.d, 0, 0, sec)
	// A Julian date as one number is only good to 40 µs: 0.3 m. What the
	// library took for k is known exactly, so put that right.
	took := (satellite.JDay(o.y, o.m, o.d, 0, 0, sec) - o.julian) * 86400
	late := float64(k) - took
	s := State{
		PositionKm:  Vector{p.X + v.X*late, p.Y + v.Y*late, p.Z + v.Z*late},
		VelocityKmS: Vector{v.X, v.Y, v.Z},
	}
	if err := checkState(s); err != nil {
		return State{}, o.timeError(o.timeOf(k), err)
	}
	return s, nil
}

func (o *Orbit) timeOf(k int64) time.Time { return o.epoch.Add(time.Duration(k) * time.Second) }

func (o *Orbit) timeError(t time.Time, reason error) error {
	return &TimeError{Satellite: label(o.set), Time: t, Epoch: o.epoch, Err: reason}
}

// checkState finds the faults that the library does not report: it leaves
// zero or NaN where it had no solution, and positions inside the Earth.
func checkState(s State) error {
	r2, v2 := dot(s.PositionKm, s.PositionKm), dot(s.VelocityKmS, s.VelocityKmS)
	switch {
	case !(r2 > 0) || math.IsInf(r2, 1) || !(v2 > 0) || math.IsInf(v2, 1):
		return ErrBroken
	case r2 < sgp4RadiusKm*sgp4RadiusKm:
		return ErrDecayed
	case v2/2 >= sgp4MuKm3S2/math.Sqrt(r2): // not bound to the Earth any more
		return ErrBroken
	}
	return nil
}

// between interpolates two states one second apart by the cubic that has both
// positions and both velocities; f is 0 to 1 from a to b.
func between(a, b State, f float64) State {
	var s State
	for i := range 3 {
		c := hermite{a.PositionKm[i], b.PositionKm[i], a.VelocityKmS[i], b.VelocityKmS[i]}
		s.PositionKm[i] = c.value(f)
		s.VelocityKmS[i] = c.slope(f)
	}
	return s
}

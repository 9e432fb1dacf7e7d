package world

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

const (
	rad           = math.Pi / 180
	earthRadiusKm = 6378.135   // WGS-72, as SGP4 has it
	earthMu       = 398600.8   // km³/s², the same
	earthTurn     = 7.29212e-5 // rad/s
)

// lay finds elements of the wanted age with which the wanted pass happens.
// A first guess by spherical geometry is corrected with the propagator until
// the rise is right to a tenth of a second.
func lay(ctx context.Context, site track.Site, start time.Time, o orbit) (elements.Set, error) {
	a := earthRadiusKm + o.heightKm
	epoch := start.Add(-o.age).Truncate(time.Second)
	set := elements.Set{
		Name: o.name, CatalogueNumber: o.number, Designator: fmt.Sprintf("%d-%s", epoch.Year(), o.designator), Classification: 'U',
		Epoch:               epoch,
		MeanMotionRevPerDay: math.Sqrt(earthMu/(a*a*a)) * 86400 / (2 * math.Pi),
		Eccentricity:        0.0011,
		InclinationDeg:      o.inclination,
		PerigeeDeg:          81.4,
		BStar:               0.00012,
		ElementNumber:       999,
		RevolutionNumber:    3110,
		Format:              elements.TLE,
	}
	if o.fresh {
		set.RevolutionNumber = 61
	}
	rise := start.Add(o.rise)
	peak := rise.Add(5 * time.Minute)
	for range 12 {
		if err := passOver(&set, site, o, peak); err != nil {
			return set, err
		}
		prop, err := track.NewOrbit(set)
		if err != nil {
			return set, err
		}
		passes, err := prop.Passes(ctx, site, peak.Add(-5*time.Minute), peak.Add(5*time.Minute), 0)
		if err != nil {
			return set, err
		}
		if len(passes) != 1 {
			return set, errors.New("no single pass where one was laid")
		}
		off := rise.Sub(passes[0].Rise.Time)
		if off.Abs() < 100*time.Millisecond {
			return set, nil
		}
		peak = peak.Add(off)
	}
	return set, errors.New("the pass can't be made to rise at the wanted time")
}

// passOver turns the orbit so that at the given time the object is abeam of
// the site, as far off as the wanted peak elevation asks.
func passOver(set *elements.Set, site track.Site, o orbit, at time.Time) error {
	a := earthRadiusKm + o.heightKm
	e := o.peakDeg * rad
	offset := math.Acos(earthRadiusKm*math.Cos(e)/a) - e
	heading := headingDeg(set, site, o) * rad
	side := heading + math.Pi/2
	if !o.east {
		side = heading - math.Pi/2
	}
	if !o.ascending { // heading south, east is to the left
		side += math.Pi
	}
	lat0 := site.LatitudeDeg * rad
	lat := math.Asin(math.Sin(lat0)*math.Cos(offset) + math.Cos(lat0)*math.Sin(offset)*math.Cos(side))
	lon := site.LongitudeDeg*rad + math.Atan2(math.Sin(side)*math.Sin(offset)*math.Cos(lat0),
		math.Cos(offset)-math.Sin(lat0)*math.Sin(lat))

	// What the elements give there, against what is wanted, by the direction
	// of the object and of its orbit's pole: twice, as the secular drift
	// hardly depends on the correction.
	for range 3 {
		prop, err := track.NewOrbit(*set)
		if err != nil {
			return err
		}
		state, err := prop.State(at)
		if err != nil {
			return err
		}
		ground, err := prop.Ground(at)
		if err != nil {
			return err
		}
		node, argument := planeOf(state)
		inclination := set.InclinationDeg * rad
		want := math.Asin(math.Max(-1, math.Min(1, math.Sin(lat)/math.Sin(inclination))))
		if !o.ascending {
			want = math.Pi - want
		}
		// Right ascension of the wanted point, by how far it is east of the
		// point below the object now.
		ra := math.Atan2(state.PositionKm[1], state.PositionKm[0]) + lon - ground.LongitudeDeg*rad
		wantNode := ra - math.Atan2(math.Cos(inclination)*math.Sin(want), math.Cos(want))
		set.NodeDeg = track.Wrap360(set.NodeDeg + (wantNode-node)/rad)
		set.AnomalyDeg = track.Wrap360(set.AnomalyDeg + (want-argument)/rad)
	}
	return nil
}

// headingDeg returns the azimuth of the ground track at the site's latitude,
// the Earth's turning included.
func headingDeg(set *elements.Set, site track.Site, o orbit) float64 {
	lat := site.LatitudeDeg * rad
	sin := math.Cos(set.InclinationDeg*rad) / math.Cos(lat)
	inertial := math.Asin(math.Max(-1, math.Min(1, sin)))
	if !o.ascending {
		inertial = math.Pi - inertial
	}
	speed := set.MeanMotionRevPerDay * 2 * math.Pi / 86400
	return math.Atan2(speed*math.Sin(inertial)-earthTurn*math.Cos(lat), speed*math.Cos(inertial)) / rad
}

// planeOf returns the right ascension of the ascending node and the argument
// of latitude, in radians, of a state.
func planeOf(s track.State) (node, argument float64) {
	r, v := s.PositionKm, s.VelocityKmS
	h := track.Vector{r[1]*v[2] - r[2]*v[1], r[2]*v[0] - r[0]*v[2], r[0]*v[1] - r[1]*v[0]}
	node = math.Atan2(h[0], -h[1])
	toNode := r[0]*math.Cos(node) + r[1]*math.Sin(node)
	length := math.Sqrt(r[0]*r[0] + r[1]*r[1] + r[2]*r[2])
	argument = math.Acos(math.Max(-1, math.Min(1, toNode/length)))
	if r[2] < 0 {
		argument = 2*math.Pi - argument
	}
	return node, argument
}

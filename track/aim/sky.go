package aim

import (
	"math"
	"time"

	"foreaim/track"
)

const rad = math.Pi / 180

// sky holds where one object can be during a pass: seen from the site, by time
// and by how late it is. Between its knots it interpolates with cubics: for a
// low orbit good to a few metres, at a thousandth of the propagator's cost.
type sky struct {
	from         time.Time // of the first knot
	times, lates int
	late0        float64
	knots        []knot // by time, then by late
}

// knot is east, north and up in km, and range times range rate in km²/s, all
// of which are smooth in time and lateness.
type knot [4]float64

// knotS is between knots, in time and in lateness.
const knotS = 60.0

// newSky covers from to to, and all lateness between low and high, s.
func newSky(orbit LateLooker, site track.Site, from, to time.Time, low, high float64) (*sky, error) {
	s := &sky{from: from.Add(-knotS * time.Second), late0: low - knotS}
	s.times = int(math.Ceil(to.Sub(from).Seconds()/knotS)) + 4
	s.lates = int(math.Ceil((high-low)/knotS)) + 4
	for i := range s.times {
		t := s.from.Add(time.Duration(float64(i) * knotS * float64(time.Second)))
		for j := range s.lates {
			look, err := orbit.LookLate(site, t, s.late0+float64(j)*knotS)
			if err != nil {
				return nil, err
			}
			v := unit(look.AzimuthDeg, look.ElevationDeg)
			r := look.RangeKm
			s.knots = append(s.knots, knot{r * v[0], r * v[1], r * v[2], r * look.RangeRateKmS})
		}
	}
	return s, nil
}

// at returns the sky at one time, which must be within its span.
func (s *sky) at(t time.Time) moment {
	i, f := s.place(t.Sub(s.from).Seconds(), s.times)
	c := cubic(f)
	m := moment{sky: s, knots: make([]knot, s.lates)}
	for j := range m.knots {
		for k := range 4 {
			row := s.knots[(i-1+k)*s.lates+j]
			for n := range row {
				m.knots[j][n] += c[k] * row[n]
			}
		}
	}
	return m
}

// covers tells whether at may be asked for a time.
func (s *sky) covers(t time.Time) bool {
	x := t.Sub(s.from).Seconds() / knotS
	return x >= 1 && x <= float64(s.times-2)
}

// place returns the knot before a place, s from the first, and the fraction
// from it to the next; kept so that there are two knots on each side.
func (s *sky) place(at float64, n int) (int, float64) {
	x := at / knotS
	i := max(1, min(int(x), n-3))
	return i, x - float64(i)
}

// cubic returns the weights of four even knots for a fraction from the second
// to the third (Lagrange).
func cubic(f float64) [4]float64 {
	return [4]float64{
		-f * (f - 1) * (f - 2) / 6,
		(f + 1) * (f - 1) * (f - 2) / 2,
		-(f + 1) * f * (f - 2) / 2,
		(f + 1) * f * (f - 1) / 6,
	}
}

// moment is a sky at one time, by lateness.
type moment struct {
	*sky
	knots []knot
}

// seen is an object as seen from the site.
type seen struct {
	unit      track.Vector // east, north, up
	spreadDB  float64      // what the path costs against 1000 km
	rateKmS   float64      // of the range, positive: going away
	elevation float64      // its sine
}

func (m moment) late(lateS float64) seen {
	i, f := m.place(lateS-m.late0, m.lates)
	c := cubic(f)
	var v knot
	for k := range 4 {
		for n := range v {
			v[n] += c[k] * m.knots[i-1+k][n]
		}
	}
	r := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	return seen{
		unit:      track.Vector{v[0] / r, v[1] / r, v[2] / r},
		spreadDB:  20 * math.Log10(r/1000),
		rateKmS:   v[3] / r,
		elevation: v[2] / r,
	}
}

// unit returns a direction as east, north, up.
func unit(azimuthDeg, elevationDeg float64) track.Vector {
	sinA, cosA := math.Sincos(azimuthDeg * rad)
	sinE, cosE := math.Sincos(elevationDeg * rad)
	return track.Vector{sinA * cosE, cosA * cosE, sinE}
}

// directionOf is the opposite of unit.
func directionOf(v track.Vector) Direction {
	return Direction{
		AzimuthDeg:   track.Wrap360(math.Atan2(v[0], v[1]) / rad),
		ElevationDeg: math.Asin(max(-1, min(1, v[2]))) / rad,
	}
}

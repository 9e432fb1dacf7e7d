package track

import (
	"math"

	"foreaim/track/elements"
)

// meanElements are SGP4's own: radians, minutes, Earth radii, Brouwer mean
// motion.
type meanElements struct{ n, a, e, cosI, bstar, perigee, anomaly float64 }

// unKozai turns the Kozai mean motion of a set into the Brouwer mean motion
// that SGP4 works with (AIAA 2006-6753, appendix B).
func unKozai(set elements.Set) meanElements {
	const rad = math.Pi / 180
	m := meanElements{
		e: set.Eccentricity, cosI: math.Cos(set.InclinationDeg * rad), bstar: set.BStar,
		perigee: set.PerigeeDeg * rad, anomaly: set.AnomalyDeg * rad,
	}
	kozai := set.MeanMotionRevPerDay * 2 * math.Pi / 1440
	xke := sgp4RatePerMinute()
	a1 := math.Pow(xke/kozai, 2.0/3)
	d := 0.75 * sgp4J2 * (3*m.cosI*m.cosI - 1) / math.Pow(1-m.e*m.e, 1.5)
	d1 := d / (a1 * a1)
	a0 := a1 * (1 - d1*d1 - d1*(1.0/3+134*d1*d1/81))
	m.n = kozai / (1 + d/(a0*a0))
	m.a = math.Pow(xke/m.n, 2.0/3)
	return m
}

// sgp4RatePerMinute is the angular rate of an orbit of one Earth radius.
func sgp4RatePerMinute() float64 {
	return 60 / math.Sqrt(sgp4RadiusKm*sgp4RadiusKm*sgp4RadiusKm/sgp4MuKm3S2)
}

// drag holds the secular drag terms of SGP4 (AIAA 2006-6753, appendix B, for
// perigees above 156 km). The library works with these too but doesn't say
// when they leave their range, which can't be seen from its positions: an
// eccentricity below 0 is quietly set to 0, and a semi-major axis that has
// shrunk through 0 grows again.
type drag struct {
	c1, c4, d2, d3, d4, bstar, a, e float64
}

func newDrag(m meanElements) drag {
	const s, j2 = 78/sgp4RadiusKm + 1, sgp4J2
	q := math.Pow((120-78)/sgp4RadiusKm, 4)
	e2 := m.e * m.e
	tsi := 1 / (m.a - s)
	eta := m.a * m.e * tsi
	eta2, eeta := eta*eta, m.e*eta
	psi2 := math.Abs(1 - eta2)
	coef := q * math.Pow(tsi, 4)
	coef1 := coef / math.Pow(psi2, 3.5)
	con41 := 3*m.cosI*m.cosI - 1
	c2 := coef1 * m.n * (m.a*(1+1.5*eta2+eeta*(4+eta2)) + 0.375*j2*tsi/psi2*con41*(8+3*eta2*(8+eta2)))
	g := drag{c1: m.bstar * c2, bstar: m.bstar, a: m.a, e: m.e}
	g.c4 = 2 * m.n * coef1 * m.a * (1 - e2) * (eta*(2+0.5*eta2) + m.e*(0.5+2*eta2) -
		j2*tsi/(m.a*psi2)*(-3*con41*(1-2*eeta+eta2*(1.5-0.5*eeta))+
			0.75*(1-m.cosI*m.cosI)*(2*eta2-eeta*(1+eta2))*math.Cos(2*m.perigee)))
	perigeeKm := (m.a*(1-m.e) - 1) * sgp4RadiusKm
	if perigeeKm >= 220 && 2*math.Pi/m.n < 225 {
		g.d2 = 4 * m.a * tsi * g.c1 * g.c1
		t := g.d2 * tsi * g.c1 / 3
		g.d3 = (17*m.a + s) * t
		g.d4 = 0.5 * t * m.a * tsi * (221*m.a + 31*s) * g.c1
	}
	return g
}

// check says whether the drag terms are in range, minutes after the epoch. An
// object whose mean perigee is well under the ground (2 % of the Earth's radius)
// has come down, wherever on its orbit it would be.
func (g drag) check(minutes float64) error {
	t := minutes
	axis := 1 - t*(g.c1+t*(g.d2+t*(g.d3+t*g.d4))) // square root of the semi-major axis's ratio
	e := g.e - g.bstar*g.c4*t
	switch {
	case axis <= 0 || g.a*axis*axis*(1-e) < 0.98:
		return ErrDecayed
	case e >= 1 || e < -0.001:
		return ErrBroken
	}
	return nil
}

package north

import (
	"math"
	"time"

	"foreaim/track"
)

// The pole star, alpha Ursae Minoris, HIP 11767: place at 2000.0 and yearly
// motion (right ascension times cos declination) in the ICRS. Source: F. van
// Leeuwen, "Hipparcos, the New Reduction", 2007 (typed from memory; the tests
// hold it against another catalogue's place).
const (
	poleStarRightAscensionDeg = (2 + 31/60.0 + 49.09456/3600) * 15
	poleStarDeclinationDeg    = 89 + 15/60.0 + 50.7923/3600
	poleStarMotionRA          = 0.04448  // arcseconds a year
	poleStarMotionDec         = -0.01185 // arcseconds a year
)

// PoleStar returns where the pole star stands, within 0.001°, from 1900 to
// 2100, with UT1 taken as UTC. It is up to 0.7° off the pole in our time; this
// is in the azimuth. The error is like that of Sun. South of the equator the
// star is below the horizon: see PoleStarSight for what to say then.
func PoleStar(t time.Time, site track.Site) (Body, error) {
	if err := checkSky(site, t); err != nil {
		return Body{}, err
	}
	longitude, latitude := poleStarEcliptic(track.CenturiesTT(t))
	longitude, latitude = aberrated(longitude, latitude, track.CenturiesTT(t))
	const farKm = 1e15 // beyond any parallax
	b := bodyAt(track.EclipticToTEME(longitude, latitude, farKm, t), site, t)
	b.DistanceKm = math.Inf(1)
	return b, nil
}

// poleStarEcliptic returns the star's longitude and latitude referred to the
// mean equinox of date, in degrees, at Julian centuries from 2000: precession
// after J. H. Lieske and others 1977, in the form of J. Meeus, "Astronomical
// Algorithms", 2nd edition, formulae 13.1, 13.2 and 21.5 to 21.7.
func poleStarEcliptic(c float64) (longitudeDeg, latitudeDeg float64) {
	const second = rad / 3600
	dec := poleStarDeclinationDeg*rad + 100*c*poleStarMotionDec*second
	ra := poleStarRightAscensionDeg*rad + 100*c*poleStarMotionRA*second/math.Cos(poleStarDeclinationDeg*rad)
	const obliquity2000 = 84381.448 * second
	sinRA, cosRA := math.Sincos(ra)
	sinDec, cosDec := math.Sincos(dec)
	sinE, cosE := math.Sincos(obliquity2000)
	longitude := math.Atan2(sinRA*cosDec*cosE+sinDec*sinE, cosRA*cosDec)
	sinLat := sinDec*cosE - cosDec*sinE*sinRA
	cosLat := math.Sqrt(1 - sinLat*sinLat)

	tilt := c * (47.0029 - c*(0.03302-c*0.000060)) * second
	node := 174.876384*rad + c*(-869.8089+c*0.03536)*second
	along := c * (5029.0966 + c*(1.11113-c*0.000006)) * second
	sinTilt, cosTilt := math.Sincos(tilt)
	sinL, cosL := math.Sincos(node - longitude)
	longitude = along + node - math.Atan2(cosTilt*cosLat*sinL-sinTilt*sinLat, cosLat*cosL)
	latitude := math.Asin(cosTilt*sinLat + sinTilt*cosLat*sinL)
	return longitude / rad, latitude / rad
}

// aberrated returns where the Earth's motion makes a star's place appear:
// Meeus, formula 23.2, without the orbit's ellipse (0.3″). Degrees.
func aberrated(longitudeDeg, latitudeDeg, c float64) (_, _ float64) {
	const constantDeg = 20.49552 / 3600
	g := (357.52911 + c*35999.05029) * rad
	sun := (280.46646+c*36000.76983)*rad + 0.0334*math.Sin(g)
	sin, cos := math.Sincos(sun - longitudeDeg*rad)
	sinLat, cosLat := math.Sincos(latitudeDeg * rad)
	return longitudeDeg - constantDeg*cos/cosLat, latitudeDeg - constantDeg*sinLat*sin
}

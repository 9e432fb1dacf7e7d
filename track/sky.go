package track

import (
	"math"
	"time"
)

// ttAheadS is terrestrial time minus UTC in seconds, as it has been since 2017.
// It is used for all years. The true value (against UT1) is from -3 s in 1900
// to perhaps 200 s in 2100: wrong by 130 s it moves the moon by 0.02° and the
// sun by 0.0015°.
const ttAheadS = 69.184

// CenturiesTT counts Julian centuries of terrestrial time from 2000-01-01 12:00.
func CenturiesTT(t time.Time) float64 {
	return (daysFrom2000(t) + ttAheadS/86400) / 36525
}

// EclipticToTEME turns a geocentric place referred to the ecliptic and mean
// equinox of date (longitude and latitude in degrees, distance in km) into
// TEME, the axes of the orbits, in km. Nutation is put in here, to 0.5″.
func EclipticToTEME(longitudeDeg, latitudeDeg, distanceKm float64, t time.Time) Vector {
	inLongitude, obliquity := nutation(t)
	sinLon, cosLon := math.Sincos(longitudeDeg*math.Pi/180 + inLongitude)
	sinLat, cosLat := math.Sincos(latitudeDeg * math.Pi / 180)
	sin, cos := math.Sincos(obliquity)
	trueEquinox := Vector{
		distanceKm * cosLat * cosLon,
		distanceKm * (cos*cosLat*sinLon - sin*sinLat),
		distanceKm * (sin*cosLat*sinLon + cos*sinLat),
	}
	// From the true to the mean equinox along the true equator.
	sin, cos = math.Sincos(inLongitude * cos)
	return turnZ(trueEquinox, sin, cos)
}

// nutation returns the nutation in longitude and the true obliquity of the
// ecliptic, in radians: the four largest terms, good to 0.5″ (J. Meeus,
// "Astronomical Algorithms", 2nd edition, chapter 22).
func nutation(t time.Time) (inLongitude, obliquity float64) {
	const rad, second = math.Pi / 180, math.Pi / 180 / 3600
	c := CenturiesTT(t)
	node := (125.04452 - 1934.136261*c) * rad
	sun := 2 * (280.4665 + 36000.7698*c) * rad
	moon := 2 * (218.3165 + 481267.8813*c) * rad
	inLongitude = -17.20*math.Sin(node) - 1.32*math.Sin(sun) - 0.23*math.Sin(moon) + 0.21*math.Sin(2*node)
	obliquity = 84381.448 - 46.8150*c - 0.00059*c*c + 0.001813*c*c*c +
		9.20*math.Cos(node) + 0.57*math.Cos(sun) + 0.10*math.Cos(moon) - 0.09*math.Cos(2*node)
	return inLongitude * second, obliquity * second
}

// DirectionTEME returns the direction from the site to a position in TEME (km)
// at t, parallax included: azimuth from true north clockwise, [0, 360), and
// elevation above the tangent plane, without refraction, in degrees; distance
// in km. Straight up and down the azimuth is 0.
func (s Site) DirectionTEME(position Vector, t time.Time) (azimuthDeg, elevationDeg, rangeKm float64) {
	fixed, _ := earthFixed(State{PositionKm: position}, t)
	return newPlace(s).direction(fixed)
}

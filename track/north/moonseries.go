package north

import (
	"math"
	"time"

	"foreaim/track"
)

// A moonTerm is one term of the moon's series: multiples of its arguments and
// the coefficients. Longitude (sine) and latitude (sine) in 1e-6 degrees,
// distance (cosine) in metres.
type moonTerm struct {
	elongation, sunAnomaly, moonAnomaly, node int
	angle, distance                           float64
}

// The moon's longitude, latitude and distance from the Earth's centre after
// J. Meeus, "Astronomical Algorithms", 2nd edition, tables 47.A and 47.B (from
// ELP-2000/82 of M. Chapront-Touzé and J. Chapront), typed from memory and held
// against two libraries in the tests. Terms under 0.002° are left out: 0.01°.
var (
	moonLongitude = [...]moonTerm{
		{0, 0, 1, 0, 6288774, -20905355},
		{2, 0, -1, 0, 1274027, -3699111},
		{2, 0, 0, 0, 658314, -2955968},
		{0, 0, 2, 0, 213618, -569925},
		{0, 1, 0, 0, -185116, 48888},
		{0, 0, 0, 2, -114332, -3149},
		{2, 0, -2, 0, 58793, 246158},
		{2, -1, -1, 0, 57066, -152138},
		{2, 0, 1, 0, 53322, -170733},
		{2, -1, 0, 0, 45758, -204586},
		{0, 1, -1, 0, -40923, -129620},
		{1, 0, 0, 0, -34720, 108743},
		{0, 1, 1, 0, -30383, 104755},
		{2, 0, 0, -2, 15327, 10321},
		{0, 0, 1, 2, -12528, 0},
		{0, 0, 1, -2, 10980, 79661},
		{4, 0, -1, 0, 10675, -34782},
		{0, 0, 3, 0, 10034, -23210},
		{4, 0, -2, 0, 8548, -21636},
		{2, 1, -1, 0, -7888, 24208},
		{2, 1, 0, 0, -6766, 30824},
		{1, 0, -1, 0, -5163, -8379},
		{1, 1, 0, 0, 4987, -16675},
		{2, -1, 1, 0, 4036, -12831},
		{2, 0, 2, 0, 3994, -10445},
		{4, 0, 0, 0, 3861, -11650},
		{2, 0, -3, 0, 3665, 14403},
		{0, 1, -2, 0, -2689, -7003},
		{2, 0, -1, 2, -2602, 0},
		{2, -1, -2, 0, 2390, 10056},
		{1, 0, 1, 0, -2348, 6322},
		{2, -2, 0, 0, 2236, -9884},
		{0, 1, 2, 0, -2120, 5751},
		{0, 2, 0, 0, -2069, 0},
		{2, -2, -1, 0, 2048, -4950},
	}
	moonLatitude = [...]moonTerm{
		{0, 0, 0, 1, 5128122, 0},
		{0, 0, 1, 1, 280602, 0},
		{0, 0, 1, -1, 277693, 0},
		{2, 0, 0, -1, 173237, 0},
		{2, 0, -1, 1, 55413, 0},
		{2, 0, -1, -1, 46271, 0},
		{2, 0, 0, 1, 32573, 0},
		{0, 0, 2, 1, 17198, 0},
		{2, 0, 1, -1, 9266, 0},
		{0, 0, 2, -1, 8822, 0},
		{2, -1, 0, -1, 8216, 0},
		{2, 0, -2, -1, 4324, 0},
		{2, 0, 1, 1, 4200, 0},
		{2, 1, 0, -1, -3359, 0},
		{2, -1, -1, 1, 2463, 0},
		{2, -1, 0, 1, 2211, 0},
		{2, -1, -1, -1, 2065, 0},
	}
)

// moonArguments holds the arguments of the series, radians.
type moonArguments struct {
	elongation, sunAnomaly, moonAnomaly, node float64
	ellipse                                   float64 // factor for each multiple of the sun's anomaly
}

// sum adds up a series: sines with the angles, cosines with the distances.
func (a moonArguments) sum(terms []moonTerm) (angle, distance float64) {
	for _, m := range terms {
		sin, cos := math.Sincos(float64(m.elongation)*a.elongation + float64(m.sunAnomaly)*a.sunAnomaly +
			float64(m.moonAnomaly)*a.moonAnomaly + float64(m.node)*a.node)
		factor := 1.0
		for range max(m.sunAnomaly, -m.sunAnomaly) {
			factor *= a.ellipse
		}
		angle += factor * m.angle * sin
		distance += factor * m.distance * cos
	}
	return angle, distance
}

// moonEcliptic returns the moon's geocentric longitude and latitude, referred
// to the mean equinox of date, in degrees, and its distance in km, at Julian
// centuries of terrestrial time from 2000. Light time is in the mean longitude.
func moonEcliptic(c float64) (longitudeDeg, latitudeDeg, distanceKm float64) {
	mean := 218.3164477 + c*(481267.88123421-c*(0.0015786-c/538841))
	a := moonArguments{
		elongation:  (297.8501921 + c*(445267.1114034-c*(0.0018819-c/545868))) * rad,
		sunAnomaly:  (357.5291092 + c*(35999.0502909-c*0.0001536)) * rad,
		moonAnomaly: (134.9633964 + c*(477198.8675055+c*(0.0087414+c/69699))) * rad,
		node:        (93.2720950 + c*(483202.0175233-c*(0.0036539+c/3526000))) * rad,
		ellipse:     1 - c*(0.002516+c*0.0000074),
	}
	longitude, metres := a.sum(moonLongitude[:])
	latitude, _ := a.sum(moonLatitude[:])
	// Venus and the Earth's flattening.
	longitude += 3958*math.Sin((119.75+131.849*c)*rad) + 1962*math.Sin(mean*rad-a.node)
	latitude -= 2235 * math.Sin(mean*rad)
	return track.Wrap360(mean + longitude*1e-6), latitude * 1e-6, 385000.56 + metres*1e-3
}

// moonPosition returns the moon's geocentric position in TEME, km.
func moonPosition(t time.Time) track.Vector {
	longitude, latitude, distance := moonEcliptic(track.CenturiesTT(t))
	return track.EclipticToTEME(longitude, latitude, distance, t)
}

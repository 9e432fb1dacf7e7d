package track

import "math"

// The WGS-84 ellipsoid.
const (
	wgs84RadiusKm   = 6378.137
	wgs84Flattening = 1 / 298.257223563
	wgs84E2         = wgs84Flattening * (2 - wgs84Flattening)
)

// EarthFixed returns the site in Earth-fixed axes on WGS-84, km: x towards
// 0° N 0° E, z towards the north pole.
func (s Site) EarthFixed() Vector { return newPlace(s).position }

// Geodetic returns geodetic latitude and longitude in degrees and height above
// the WGS-84 ellipsoid in km of an Earth-fixed position in km. It is good to
// better than 0.1 mm from 100 km below the ellipsoid to beyond geostationary
// height. On the axis the longitude is 0.
func Geodetic(p Vector) (latitudeDeg, longitudeDeg, heightKm float64) {
	// B. R. Bowring's iteration on the reduced latitude ("Transformation from
	// spatial to geographical coordinates", Survey Review 181, 1976).
	const b = wgs84RadiusKm * (1 - wgs84Flattening)
	const second = wgs84E2 / (1 - wgs84E2)
	flat := math.Hypot(p[0], p[1])
	if flat == 0 && p[2] == 0 {
		return 0, 0, -wgs84RadiusKm
	}
	sinB, cosB := unit(p[2]*wgs84RadiusKm, flat*b)
	var sin, cos float64
	for range 3 {
		sin, cos = unit(p[2]+second*b*sinB*sinB*sinB, flat-wgs84E2*wgs84RadiusKm*cosB*cosB*cosB)
		sinB, cosB = unit(sin*(1-wgs84Flattening), cos)
	}
	heightKm = flat*cos + p[2]*sin - wgs84RadiusKm*math.Sqrt(1-wgs84E2*sin*sin)
	return math.Atan2(sin, cos) * 180 / math.Pi, math.Atan2(p[1], p[0]) * 180 / math.Pi, heightKm
}

// unit returns the sine and cosine of atan2(y, x).
func unit(y, x float64) (sin, cos float64) {
	h := math.Hypot(x, y)
	return y / h, x / h
}

// place is a site made ready: where it is and its local axes, Earth-fixed.
type place struct {
	position        Vector // km
	east, north, up Vector
}

func newPlace(s Site) place {
	sinLat, cosLat := math.Sincos(s.LatitudeDeg * math.Pi / 180)
	sinLon, cosLon := math.Sincos(s.LongitudeDeg * math.Pi / 180)
	n := wgs84RadiusKm / math.Sqrt(1-wgs84E2*sinLat*sinLat)
	h := s.HeightM / 1000
	return place{
		position: Vector{(n + h) * cosLat * cosLon, (n + h) * cosLat * sinLon, (n*(1-wgs84E2) + h) * sinLat},
		east:     Vector{-sinLon, cosLon, 0},
		north:    Vector{-sinLat * cosLon, -sinLat * sinLon, cosLat},
		up:       Vector{cosLat * cosLon, cosLat * sinLon, sinLat},
	}
}

// direction returns azimuth and elevation in degrees and the range in km of an
// Earth-fixed position. Straight up and down the azimuth is 0.
func (p place) direction(target Vector) (azimuthDeg, elevationDeg, rangeKm float64) {
	d := sub(target, p.position)
	e, n, u := dot(d, p.east), dot(d, p.north), dot(d, p.up)
	flat := math.Hypot(e, n)
	if flat > 1e-12 {
		azimuthDeg = Wrap360(math.Atan2(e, n) * 180 / math.Pi)
	}
	return azimuthDeg, math.Atan2(u, flat) * 180 / math.Pi, math.Hypot(flat, u)
}

// Direction returns the straight line from one site to another: azimuth from
// true north and elevation above the tangent plane in degrees, distance in km.
// Straight up and down the azimuth is 0.
func (s Site) Direction(to Site) (azimuthDeg, elevationDeg, rangeKm float64) {
	return newPlace(s).direction(to.EarthFixed())
}

// Package landscape makes invented ground for tests. Heights are in metres above
// mean sea level.
package landscape

import "math"

// Shape is the height of ground at a geodetic latitude and longitude in degrees.
type Shape func(latitudeDeg, longitudeDeg float64) float64

// HeightM returns the height; it never fails. With it a Shape is a
// terrain.Ground.
func (s Shape) HeightM(latitudeDeg, longitudeDeg float64) (float64, error) {
	return s(latitudeDeg, longitudeDeg), nil
}

// metres returns how far east and north a place is of another, by the radii of
// WGS-84 halfway between: better than a metre over 20 km, 1 part in 1000 over
// 100 km at 60°. It is of no use around the poles.
func metres(fromLat, fromLon, lat, lon float64) (eastM, northM float64) {
	const a, e2 = 6378137.0, 0.00669437999014
	sin, cos := math.Sincos((fromLat + lat) / 2 * math.Pi / 180)
	w := 1 - e2*sin*sin
	n := a / math.Sqrt(w)
	return math.Remainder(lon-fromLon, 360) * math.Pi / 180 * n * cos, (lat - fromLat) * math.Pi / 180 * n * (1 - e2) / w
}

// Level is the same height everywhere.
func Level(heightM float64) Shape {
	return func(_, _ float64) float64 { return heightM }
}

// Slope climbs straight towards an azimuth by rise metres a metre, from 0 at a
// place.
func Slope(latitudeDeg, longitudeDeg, azimuthDeg, rise float64) Shape {
	sin, cos := math.Sincos(azimuthDeg * math.Pi / 180)
	return func(lat, lon float64) float64 {
		east, north := metres(latitudeDeg, longitudeDeg, lat, lon)
		return rise * (east*sin + north*cos)
	}
}

// Cone is a hill of straight flanks around a place; 0 beyond its radius.
func Cone(latitudeDeg, longitudeDeg, heightM, radiusM float64) Shape {
	return func(lat, lon float64) float64 {
		east, north := metres(latitudeDeg, longitudeDeg, lat, lon)
		return heightM * max(0, 1-math.Hypot(east, north)/radiusM)
	}
}

// Dome is a part of a sphere around a place: heightM at the top, 0 from the radius
// on.
func Dome(latitudeDeg, longitudeDeg, heightM, radiusM float64) Shape {
	sphere := (radiusM*radiusM + heightM*heightM) / (2 * heightM)
	return func(lat, lon float64) float64 {
		east, north := metres(latitudeDeg, longitudeDeg, lat, lon)
		away := math.Hypot(east, north)
		if away >= radiusM {
			return 0
		}
		return max(0, math.Sqrt(sphere*sphere-away*away)-sphere+heightM)
	}
}

// Ridge is a wall of straight flanks with its crest along a line through a place
// at an azimuth, as long as lengthM to either side, its feet widthM away.
func Ridge(latitudeDeg, longitudeDeg, azimuthDeg, heightM, widthM, lengthM float64) Shape {
	sin, cos := math.Sincos(azimuthDeg * math.Pi / 180)
	return func(lat, lon float64) float64 {
		east, north := metres(latitudeDeg, longitudeDeg, lat, lon)
		along, aside := math.Abs(east*sin+north*cos), math.Abs(east*cos-north*sin)
		if along > lengthM {
			aside = math.Hypot(aside, along-lengthM)
		}
		return heightM * max(0, 1-aside/widthM)
	}
}

// Highest is the highest of several shapes at every place.
func Highest(shapes ...Shape) Shape {
	return func(lat, lon float64) float64 {
		top := math.Inf(-1)
		for _, s := range shapes {
			top = max(top, s(lat, lon))
		}
		return top
	}
}

// Sum adds shapes up.
func Sum(shapes ...Shape) Shape {
	return func(lat, lon float64) float64 {
		sum := 0.0
		for _, s := range shapes {
			sum += s(lat, lon)
		}
		return sum
	}
}

// Rolling is smooth hills and valleys, heightM up and down around 0, wavelengthKm
// from hill to hill; the same everywhere for the same numbers.
func Rolling(heightM, wavelengthKm float64) Shape {
	perDegree := 111.2 / wavelengthKm * 2 * math.Pi
	return func(lat, lon float64) float64 {
		y, x := lat*perDegree, lon*perDegree*math.Cos(lat*math.Pi/180)
		return heightM * (math.Sin(x+1.3*math.Sin(0.37*y)) + math.Sin(0.83*y+1.1*math.Sin(0.41*x)) + 0.5*math.Sin(2.3*(x+y))) / 2.5
	}
}

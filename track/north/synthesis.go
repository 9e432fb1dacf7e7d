package north

import "math"

// WGS-84 ellipsoid and the model's reference sphere, metres.
const (
	equatorM      = 6378137.0
	flattening    = 1 / 298.257223563
	eccentricity2 = flattening * (2 - flattening) // the square of it
	referenceM    = 6371200.0
)

// vector returns the field (north, east, down on the ellipsoid, nT) and its
// change per year. The position is turned into geocentric radius and latitude,
// the field is summed there, and turned back by the angle between the two
// verticals.
func (m *model) vector(latitudeDeg, longitudeDeg, heightM, year float64) (v, dot [3]float64) {
	sinLat, cosLat := math.Sincos(latitudeDeg * rad)
	n := equatorM / math.Sqrt(1-eccentricity2*sinLat*sinLat)
	p := (n + heightM) * cosLat
	z := (n*(1-eccentricity2) + heightM) * sinLat
	r := math.Hypot(p, z)

	v, dot = m.sum(r, z/r, p/r, longitudeDeg*rad, year-firstYear)
	// sine and cosine of geocentric minus geodetic latitude
	sin, cos := (z*cosLat-p*sinLat)/r, (p*cosLat+z*sinLat)/r
	turn := func(a [3]float64) [3]float64 {
		return [3]float64{a[0]*cos - a[2]*sin, a[1], a[0]*sin + a[2]*cos}
	}
	return turn(v), turn(dot)
}

// sum adds up the spherical harmonics at a geocentric radius in metres, cosine
// and sine of the colatitude, and longitude in radians: minus the gradient of
//
//	a Σ (a/r)^(n+1) (g cos mλ + h sin mλ) P(n,m)(cos θ)
//
// as north, east, down on the sphere. For m > 0 it works with
// q = P(n,m) / sin θ, a polynomial in sin θ and cos θ. East and the slope
// dP/dθ = n cos θ q(n,m) − √(n²−m²) q(n−1,m) then need no division by sin θ,
// so that the poles are points like any other. For m = 0 the slope is
// −√(n(n+1)/2) P(n,1).
func (m *model) sum(r, cosTheta, sinTheta, lambda, years float64) (v, dot [3]float64) {
	var power [degree + 1]float64 // (a/r)^(n+2)
	ratio := referenceM / r
	power[0] = ratio * ratio
	for n := 1; n <= degree; n++ {
		power[n] = power[n-1] * ratio
	}

	add := func(n, k int, p, slope, q, sin, cos float64) {
		g, h, gDot, hDot := m.g[n][k], m.h[n][k], m.gDot[n][k], m.hDot[n][k]
		g, h = g+years*gDot, h+years*hDot
		down := -float64(n+1) * p * power[n]
		north := slope * power[n]
		east := float64(k) * q * power[n]
		even, evenDot := g*cos+h*sin, gDot*cos+hDot*sin
		v[0] += north * even
		v[1] += east * (g*sin - h*cos)
		v[2] += down * even
		dot[0] += north * evenDot
		dot[1] += east * (gDot*sin - hDot*cos)
		dot[2] += down * evenDot
	}

	// m = 0: Legendre polynomials; their slopes wait for P(n,1).
	var zonal [degree + 1]float64
	zonal[0], zonal[1] = 1, cosTheta
	for n := 2; n <= degree; n++ {
		zonal[n] = (float64(2*n-1)*cosTheta*zonal[n-1] - float64(n-1)*zonal[n-2]) / float64(n)
	}
	sinStep, cosStep := math.Sincos(lambda)
	sin, cos := 0.0, 1.0
	diagonal := 1.0 // q(k,k)
	for k := 1; k <= degree; k++ {
		sin, cos = sin*cosStep+cos*sinStep, cos*cosStep-sin*sinStep
		if k > 1 {
			diagonal *= math.Sqrt(float64(2*k-1)/float64(2*k)) * sinTheta
		}
		// q(n−2), q(n−1), q(n) and √((n−1)²−k²), √(n²−k²)
		before, last, q := 0.0, 0.0, diagonal
		rootLast, root := 0.0, 0.0
		for n := k; n <= degree; n++ {
			if n > k {
				before, last = last, q
				rootLast, root = root, math.Sqrt(float64(n*n-k*k))
				q = (float64(2*n-1)*cosTheta*last - rootLast*before) / root
			}
			p := q * sinTheta
			add(n, k, p, float64(n)*cosTheta*q-root*last, q, sin, cos)
			if k == 1 {
				add(n, 0, zonal[n], -math.Sqrt(float64(n*(n+1))/2)*p, 0, 0, 1)
			}
		}
	}
	return v, dot
}

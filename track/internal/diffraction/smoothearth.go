// Package diffraction tells what the Earth takes off a wave beyond free space.
package diffraction

import "math"

// SmoothPath is a path over an Earth without hills. Heights are above its
// surface.
type SmoothPath struct {
	FrequencyMHz  float64
	DistanceKm    float64
	Height1M      float64
	Height2M      float64
	EarthRadiusKm float64 // effective; StandardRadiusKm in usual air
	SeaShare      float64 // of the path over sea, 0 to 1
	Vertical      bool    // polarisation
}

// StandardRadiusKm is the effective radius of the Earth for the usual bending
// in air, k = 4/3.
const StandardRadiusKm = 8500.0

// HorizonKm returns how far two antennas see each other over a smooth Earth:
// √(2·ae·h1) + √(2·ae·h2).
func HorizonKm(height1M, height2M, earthRadiusKm float64) float64 {
	return math.Sqrt(2*earthRadiusKm) * (math.Sqrt(height1M/1000) + math.Sqrt(height2M/1000))
}

// LossDB returns the loss over that of free space, 0 or more. Source: ITU-R
// P.526-15, 3.2, with the first term of 3.1.1, as in the reference
// implementations of P.452-18 and P.1812; rounded constants, good to 0.01 dB
// against those. Heights under 1 m count as 1 m.
func (p SmoothPath) LossDB() float64 {
	h1, h2, d, a := max(1, p.Height1M), max(1, p.Height2M), p.DistanceKm, p.EarthRadiusKm
	if d >= HorizonKm(h1, h2, a) {
		return max(0, p.beyond(h1, h2, a))
	}
	c := (h1 - h2) / (h1 + h2)
	m := 250 * d * d / (a * (h1 + h2))
	b := 2 * math.Sqrt((m+1)/(3*m)) * math.Cos(math.Pi/3+math.Acos(min(1, max(-1, 1.5*c*math.Sqrt(3*m/((m+1)*(m+1)*(m+1))))))/3)
	d1 := d * (1 + b) / 2
	d2 := d - d1
	clear := ((h1-500*d1*d1/a)*d2 + (h2-500*d2*d2/a)*d1) / d
	lambda := 299.8 / p.FrequencyMHz
	needed := 17.456 * math.Sqrt(d1*d2*lambda/d)
	if clear > needed {
		return 0
	}
	edge := d / (math.Sqrt(h1) + math.Sqrt(h2))
	loss := p.beyond(h1, h2, 500*edge*edge)
	return max(0, (1-clear/needed)*loss)
}

// beyond is the first term of the residue series, over land and sea by their
// shares.
func (p SmoothPath) beyond(h1, h2, radiusKm float64) float64 {
	land := p.firstTerm(h1, h2, radiusKm, 22, 0.003)
	if p.SeaShare == 0 {
		return land
	}
	return p.SeaShare*p.firstTerm(h1, h2, radiusKm, 80, 5) + (1-p.SeaShare)*land
}

// firstTerm takes the ground's relative permittivity and conductivity in S/m.
func (p SmoothPath) firstTerm(h1, h2, a, permittivity, conductivity float64) float64 {
	f := p.FrequencyMHz / 1e3 // GHz
	s := 18 * conductivity / f
	k := 0.036 * math.Pow(a*f, -1.0/3) * math.Pow((permittivity-1)*(permittivity-1)+s*s, -0.25)
	if p.Vertical {
		k *= math.Sqrt(permittivity*permittivity + s*s)
	}
	k2 := k * k
	beta := (1 + 1.6*k2 + 0.67*k2*k2) / (1 + 4.5*k2 + 1.53*k2*k2)
	x := 21.88 * beta * math.Cbrt(f/(a*a)) * p.DistanceKm
	fade := 11 + 10*math.Log10(x) - 17.6*x
	if x < 1.6 {
		fade = -20*math.Log10(x) - 5.6488*math.Pow(x, 1.425)
	}
	height := func(h float64) float64 {
		b := beta * 0.9575 * beta * math.Cbrt(f*f/a) * h
		g := 20 * math.Log10(b+0.1*b*b*b)
		if b > 2 {
			g = 17.6*math.Sqrt(b-1.1) - 5*math.Log10(b-1.1) - 8
		}
		return max(g, 2+20*math.Log10(k))
	}
	return -fade - height(h1) - height(h2)
}

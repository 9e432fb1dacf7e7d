package terrain

import (
	"errors"
	"math"

	"github.com/tidwall/geodesic"
)

// rays is what all lines from one antenna have in common.
type rays struct {
	eyeM      float64 // above mean sea level
	earthM    float64
	distanceM []float64
	sin, cos  []float64 // of the angle at the centre of the Earth
}

// The steps along a line.
const (
	nearStepM = 10.0
	farStepM  = 30.0
	stepShare = 0.005 // of the distance
)

func newRays(v View, eyeM float64) *rays {
	r := &rays{eyeM: eyeM, earthM: v.EarthKm * 1000}
	for d := nearStepM; d <= v.ReachKm*1000; d += min(max(nearStepM, d*stepShare), farStepM) {
		r.distanceM = append(r.distanceM, d)
		sin, cos := math.Sincos(d / r.earthM)
		r.sin, r.cos = append(r.sin, sin), append(r.cos, cos)
	}
	return r
}

// slope returns the tangent of the elevation of ground at a height, on a sphere.
func (r *rays) slope(heightM, sin, cos float64) float64 {
	return (cos - (r.earthM+r.eyeM)/(r.earthM+heightM)) / sin
}

// cast finds the crest at one azimuth.
func (r *rays) cast(g Ground, site Place, azimuthDeg float64, w *way) (Crest, error) {
	line := geodesic.WGS84.LineInit(site.LatitudeDeg, site.LongitudeDeg, azimuthDeg, lineMask)
	w.follow(&line, r.distanceM)
	crest := Crest{AzimuthDeg: azimuthDeg}
	top, at := math.Inf(-1), 0
	for i, d := range r.distanceM {
		h, err := g.HeightM(w.latitudeDeg[i], w.longitudeDeg[i])
		if err != nil {
			if errors.As(err, new(*VoidError)) {
				crest.UnknownM += r.width(i)
				continue
			}
			return Crest{}, err
		}
		if s := r.slope(h, r.sin[i], r.cos[i]); s > top {
			top, at = s, i
			crest.DistanceM, crest.HeightM = d, h
		}
	}
	if math.IsInf(top, -1) { // nothing is known
		return crest, nil
	}
	// The crest lies between two steps.
	const parts = 8
	for i := max(1, at); i <= min(at+1, len(r.distanceM)-1); i++ {
		for n := 1; n < parts; n++ {
			f := float64(n) / parts
			d := r.distanceM[i-1] + f*(r.distanceM[i]-r.distanceM[i-1])
			lat := w.latitudeDeg[i-1] + f*(w.latitudeDeg[i]-w.latitudeDeg[i-1])
			lon := w.longitudeDeg[i-1] + f*wrap180(w.longitudeDeg[i]-w.longitudeDeg[i-1])
			h, err := g.HeightM(lat, lon)
			if err != nil {
				continue // as its neighbours were read, only a void
			}
			sin, cos := math.Sincos(d / r.earthM)
			if s := r.slope(h, sin, cos); s > top {
				top = s
				crest.DistanceM, crest.HeightM = d, h
			}
		}
	}
	crest.ElevationDeg = math.Atan(top) * 180 / math.Pi
	return crest, nil
}

// width returns how much ground a step stands for.
func (r *rays) width(i int) float64 {
	if i == 0 {
		return r.distanceM[0]
	}
	return r.distanceM[i] - r.distanceM[i-1]
}

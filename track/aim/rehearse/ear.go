package rehearse

import (
	"math"

	"foreaim/track"
	"foreaim/track/aim"
)

// pattern returns what a beam loses off its axis: 12 (θ/HPBW)² dB, at most 20
// dB, as side lobes and reflections let it be.
func pattern(offDeg, beamwidthDeg float64) float64 {
	x := offDeg / beamwidthDeg
	return math.Min(20, 12*x*x)
}

// margin returns how many dB a burst is above the threshold of hearing when
// the operator believes to hold the antenna in a direction.
func (w *truth) margin(b burst, held aim.Direction) float64 {
	s := w.settings
	beamwidth := s.BeamwidthDeg
	if s.TrueBeamwidth > 0 {
		beamwidth *= s.TrueBeamwidth
	}
	cos := inner(w.boom(b, held), unit(b.look.AzimuthDeg, b.look.ElevationDeg))
	off := math.Acos(math.Max(-1, math.Min(1, cos))) / rad
	return w.marginDB + b.fadingDB - pattern(off, beamwidth) - 20*math.Log10(b.look.RangeKm/1000)
}

// boom returns the unit vector (east, north, up) of where the boom points when
// the operator believes to hold it in a direction: turned by the error of
// their north and moved by their hand, on the sphere.
func (w *truth) boom(b burst, held aim.Direction) track.Vector {
	azimuth := (held.AzimuthDeg + w.headingDeg) * rad
	at := unit(azimuth/rad, held.ElevationDeg)
	sinE, cosE := math.Sincos(held.ElevationDeg * rad)
	across := track.Vector{math.Cos(azimuth), -math.Sin(azimuth), 0}
	up := track.Vector{-math.Sin(azimuth) * sinE, -math.Cos(azimuth) * sinE, cosE}
	far := math.Hypot(b.hand[0], b.hand[1])
	if far == 0 {
		return at
	}
	sin, cos := math.Sincos(far * rad)
	var v track.Vector
	for i := range 3 {
		v[i] = cos*at[i] + sin*(b.hand[0]*across[i]+b.hand[1]*up[i])/far
	}
	return v
}

func unit(azimuthDeg, elevationDeg float64) track.Vector {
	sinA, cosA := math.Sincos(azimuthDeg * rad)
	sinE, cosE := math.Sincos(elevationDeg * rad)
	return track.Vector{sinA * cosE, cosA * cosE, sinE}
}

// heard says whether a burst is heard with a margin, and how well.
func (b burst) heard(margin float64) (bool, aim.Strength) {
	if !b.up || b.luck >= 1/(1+math.Exp(-margin)) {
		return false, ""
	}
	switch {
	case margin < 5:
		return true, aim.Weak
	case margin < 12:
		return true, aim.Good
	}
	return true, aim.Strong
}

package terrain

import (
	"fmt"

	"foreaim/track"

	"github.com/tidwall/geodesic"
)

// Profile is the ground along a line on the ellipsoid.
type Profile struct {
	BearingDeg float64   // at the start, true
	DistanceKm []float64 // from the start, ascending from 0
	GroundM    []float64 // above mean sea level
}

// LengthKm returns the length of the line.
func (p Profile) LengthKm() float64 { return p.DistanceKm[len(p.DistanceKm)-1] }

// DefaultStepM is the usual step along a profile: that of 1 arc-second.
const DefaultStepM = 30

// maxProfile is how many points a profile has at most: 600 km in steps of 30 m.
const maxProfile = 20000

// NewProfile returns the ground between two places up to 2000 km apart, in equal
// steps of stepM at most (0: DefaultStepM; longer where that would be over 20000
// points). Ground that is not known anywhere on the way is an error, as is a
// missing tile. At one place: track.ErrSamePlace.
func NewProfile(g Ground, from, to Place, stepM float64) (Profile, error) {
	var p profiler
	err := p.read(g, from, to, stepM)
	return p.Profile, err
}

// profiler reads profiles into the same memory.
type profiler struct {
	Profile
	way
	distanceM []float64
}

func (p *profiler) read(g Ground, from, to Place, stepM float64) error {
	bearing, length, err := track.Site{LatitudeDeg: from.LatitudeDeg, LongitudeDeg: from.LongitudeDeg}.
		Bearing(track.Site{LatitudeDeg: to.LatitudeDeg, LongitudeDeg: to.LongitudeDeg})
	if err != nil {
		return err
	}
	if length > 2e6 {
		return fmt.Errorf("a profile of %.0f km, want 2000 at most", length/1000)
	}
	if stepM == 0 {
		stepM = DefaultStepM
	}
	if !(stepM > 0) {
		return fmt.Errorf("a step of %v m along a profile", stepM)
	}
	steps := int(min(max(length/stepM+1, 2), maxProfile))
	p.distanceM, p.BearingDeg = p.distanceM[:0], bearing
	p.DistanceKm, p.GroundM = p.DistanceKm[:0], p.GroundM[:0]
	for i := range steps + 1 {
		d := length * float64(i) / float64(steps)
		p.distanceM = append(p.distanceM, d)
		p.DistanceKm = append(p.DistanceKm, d/1000)
	}
	line := geodesic.WGS84.LineInit(from.LatitudeDeg, from.LongitudeDeg, bearing, lineMask)
	p.follow(&line, p.distanceM)
	for i := range p.distanceM {
		h, err := g.HeightM(p.latitudeDeg[i], p.longitudeDeg[i])
		if err != nil {
			return fmt.Errorf("ground %.1f km along the way: %w", p.DistanceKm[i], err)
		}
		p.GroundM = append(p.GroundM, h)
	}
	return nil
}

package terrain

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"foreaim/track"
)

// Standing is how a candidate does.
type Standing struct {
	Candidate
	GroundM  float64 // above mean sea level
	Emitters []Reception
	TotalDBm float64 // of all emitters; -Inf: none
	SkyShare float64 // 0 to 1
	// WorthDB orders the places, the highest first: what the noise rises by counts
	// against it, and a halved sky for 3 dB (common practice, no source).
	WorthDB float64
	// Panorama is the full skyline; nil where the place was only screened: then the
	// sky was judged by a few lines over the nearer ground.
	Panorama *Panorama
	// Unknown: the place can't be judged, such as a *VoidError or
	// track.ErrSamePlace; it stands last.
	Unknown error
}

// Reception is one emitter at one place.
type Reception struct {
	Emitter    int     // its number
	DistanceKm float64 // along the ground
	BearingDeg float64 // true, from the place
	LevelDBm   float64
	Passage
}

// unknown keeps an error that concerns one place only, and returns any other.
func (at *Standing) unknown(err error) error {
	if errors.As(err, new(*VoidError)) || errors.Is(err, track.ErrSamePlace) {
		at.Unknown, at.WorthDB = err, math.Inf(-1)
		return nil
	}
	return err
}

// judge tells what a place is worth.
func (s Search) judge(at *Standing, p Panorama) {
	skyline := p.Skyline()
	if s.SkyShare != nil {
		at.SkyShare = s.SkyShare(at.Place, skyline)
	} else {
		at.SkyShare = skyline.openShare()
	}
	rise := 10 * math.Log10(1+math.Pow(10, (at.TotalDBm-s.FloorDBm)/10))
	at.WorthDB = 10*math.Log10(at.SkyShare) - rise
}

// openShare returns the share of the half sphere over the skyline, by its points.
func (s Skyline) openShare() float64 {
	if len(s.points) == 0 {
		return 1
	}
	sum := 0.0
	for _, p := range s.points {
		sum += 1 - math.Sin(max(0, p.ElevationDeg)*math.Pi/180)
	}
	return sum / float64(len(s.points))
}

// sortStandings puts the best first; alike ones stay as they are.
func sortStandings(all []Standing) {
	slices.SortStableFunc(all, func(a, b Standing) int {
		switch {
		case a.Unknown == nil && b.Unknown != nil:
			return -1
		case a.Unknown != nil && b.Unknown == nil:
			return 1
		}
		return cmp.Compare(b.WorthDB, a.WorthDB)
	})
}

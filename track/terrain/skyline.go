package terrain

import (
	"cmp"
	"fmt"
	"slices"

	"foreaim/track"
)

// The elevations in degrees that a skyline can have: from a mountain top the
// horizon lies a few degrees below level.
const (
	LowestDeg  = -5
	HighestDeg = 90
)

// Point is one point of a skyline.
type Point struct {
	AzimuthDeg   float64 // true, 0 to 360
	ElevationDeg float64 // LowestDeg to HighestDeg
}

// check says what is wrong with a point.
func (p Point) check() error {
	switch {
	case !(p.AzimuthDeg >= 0 && p.AzimuthDeg <= 360):
		return fmt.Errorf("azimuth %v is not 0 to 360 degrees", p.AzimuthDeg)
	case !(p.ElevationDeg >= LowestDeg && p.ElevationDeg <= HighestDeg):
		return fmt.Errorf("elevation %v is not %d to %d degrees", p.ElevationDeg, LowestDeg, HighestDeg)
	}
	return nil
}

// Skyline is the elevation of what hides the sky all around a site: straight
// from point to point around the circle, through north. One point is the same
// all round; none is the level horizon, 0°. The zero value is that. A Skyline
// never changes: Add and Max make new ones.
type Skyline struct {
	points []Point // by azimuth in [0, 360), none twice
}

// NewSkyline returns the skyline through points in any order. It fails when a
// point is out of range and when two are at one azimuth (0 and 360 are one).
func NewSkyline(points ...Point) (Skyline, error) {
	points = slices.Clone(points)
	for i, p := range points {
		if err := p.check(); err != nil {
			return Skyline{}, err
		}
		points[i].AzimuthDeg = track.Wrap360(p.AzimuthDeg) + 0 // no -0
	}
	slices.SortFunc(points, byAzimuth)
	for i := range points[min(1, len(points)):] {
		if points[i].AzimuthDeg == points[i+1].AzimuthDeg {
			return Skyline{}, fmt.Errorf("azimuth %v is there twice", points[i].AzimuthDeg)
		}
	}
	return Skyline{points}, nil
}

func byAzimuth(a, b Point) int { return cmp.Compare(a.AzimuthDeg, b.AzimuthDeg) }

// find returns where an azimuth is among the points, or would be.
func (s Skyline) find(azimuthDeg float64) (int, bool) {
	return slices.BinarySearchFunc(s.points, track.Wrap360(azimuthDeg), func(p Point, deg float64) int {
		return cmp.Compare(p.AzimuthDeg, deg)
	})
}

// Add returns the skyline with one more point; an earlier one at the same
// azimuth is replaced. It fails, and returns the skyline as it is, when the
// azimuth is not 0 to 360 or the elevation not LowestDeg to HighestDeg.
func (s Skyline) Add(azimuthDeg, elevationDeg float64) (Skyline, error) {
	p := Point{azimuthDeg, elevationDeg}
	if err := p.check(); err != nil {
		return s, err
	}
	p.AzimuthDeg = track.Wrap360(azimuthDeg) + 0 // no -0
	at, there := s.find(p.AzimuthDeg)
	points := slices.Clone(s.points)
	if there {
		points[at] = p
	} else {
		points = slices.Insert(points, at, p)
	}
	return Skyline{points}, nil
}

// Points returns the points by azimuth, from 0 up to but without 360.
func (s Skyline) Points() []Point { return slices.Clone(s.points) }

// ElevationDeg returns the elevation in degrees of what hides the sky at a true
// azimuth in degrees, which is wrapped to the circle.
func (s Skyline) ElevationDeg(azimuthDeg float64) float64 {
	n := len(s.points)
	if n == 0 {
		return 0
	}
	i, there := s.find(azimuthDeg)
	if there {
		return s.points[i].ElevationDeg
	}
	a, b := s.points[(i+n-1)%n], s.points[i%n]
	width := track.Wrap360(b.AzimuthDeg - a.AzimuthDeg)
	if width == 0 { // one point
		return a.ElevationDeg
	}
	part := track.Wrap360(azimuthDeg-a.AzimuthDeg) / width
	between := a.ElevationDeg*(1-part) + b.ElevationDeg*part
	// Rounding must not lead out of the points' range.
	return max(min(a.ElevationDeg, b.ElevationDeg), min(between, max(a.ElevationDeg, b.ElevationDeg)))
}

// RangeDeg returns the lowest and the highest elevation of the skyline.
func (s Skyline) RangeDeg() (lowest, highest float64) {
	if len(s.points) == 0 {
		return 0, 0
	}
	higher := func(a, b Point) int { return cmp.Compare(a.ElevationDeg, b.ElevationDeg) }
	return slices.MinFunc(s.points, higher).ElevationDeg, slices.MaxFunc(s.points, higher).ElevationDeg
}

// Max returns the skyline that is at every azimuth the higher of two.
func (s Skyline) Max(other Skyline) Skyline {
	var cuts []float64 // where either bends
	for _, p := range slices.Concat(s.points, other.points) {
		cuts = append(cuts, p.AzimuthDeg)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var points []Point
	for i, from := range cuts {
		points = append(points, Point{from, max(s.ElevationDeg(from), other.ElevationDeg(from))})
		// Between two bends both are straight, so they cross once at most.
		to := cuts[(i+1)%len(cuts)]
		before := s.ElevationDeg(from) - other.ElevationDeg(from)
		after := s.ElevationDeg(to) - other.ElevationDeg(to)
		if before*after < 0 {
			width := track.Wrap360(to - from)
			at := track.Wrap360(from + width*before/(before-after))
			points = append(points, Point{at, max(s.ElevationDeg(at), other.ElevationDeg(at))})
		}
	}
	slices.SortStableFunc(points, byAzimuth)
	return Skyline{slices.CompactFunc(points, func(a, b Point) bool { return byAzimuth(a, b) == 0 })}
}

// Horizon returns the skyline as what passes are looked for over, together with
// a minimum elevation in degrees.
func (s Skyline) Horizon(minElevationDeg float64) track.Horizon {
	lowest, _ := s.RangeDeg()
	return track.Horizon{MinElevationDeg: minElevationDeg, SkylineDeg: s.ElevationDeg, LowestDeg: lowest}
}

package terrain

import (
	"fmt"
	"math"

	"foreaim/track"

	"github.com/tidwall/geodesic"
)

// Place is a place on the ground: geodetic latitude and longitude on WGS-84.
type Place struct {
	LatitudeDeg  float64 // -90 to 90
	LongitudeDeg float64 // -180 to 180
}

func (p Place) check() error {
	return track.Site{LatitudeDeg: p.LatitudeDeg, LongitudeDeg: p.LongitudeDeg}.Check()
}

// way is the places along a line on the ellipsoid.
type way struct{ latitudeDeg, longitudeDeg []float64 }

// A line is worked out exactly every nodeM metres and is taken as straight in
// latitude and longitude between: 0.3 m off at 75°, 0.1 m at 57°. Nearer to a pole
// every place is exact.
const (
	nodeM      = 2000.0
	nodeMaxDeg = 75.0
)

// lineMask is what a line is asked for: places at distances.
const lineMask = geodesic.Latitude | geodesic.Longitude | geodesic.DistanceIn

// follow puts the places at ascending distances in metres into the way, whose
// slices are used again.
func (w *way) follow(line *geodesic.Line, distancesM []float64) {
	w.latitudeDeg, w.longitudeDeg = w.latitudeDeg[:0], w.longitudeDeg[:0]
	var from, to Place
	end := -1.0 // distance of to
	for _, d := range distancesM {
		for d > end || end < 0 {
			from = to
			if end < 0 {
				end = 0
				line.Position(0, &from.LatitudeDeg, &from.LongitudeDeg, nil)
			}
			// A long gap is stepped over.
			if d > end+nodeM {
				end = math.Floor(d/nodeM) * nodeM
				line.Position(end, &from.LatitudeDeg, &from.LongitudeDeg, nil)
			}
			end += nodeM
			line.Position(end, &to.LatitudeDeg, &to.LongitudeDeg, nil)
		}
		var p Place
		if math.Abs(from.LatitudeDeg) > nodeMaxDeg || math.Abs(to.LatitudeDeg) > nodeMaxDeg {
			line.Position(d, &p.LatitudeDeg, &p.LongitudeDeg, nil)
		} else {
			f := 1 - (end-d)/nodeM
			p.LatitudeDeg = from.LatitudeDeg + f*(to.LatitudeDeg-from.LatitudeDeg)
			p.LongitudeDeg = from.LongitudeDeg + f*wrap180(to.LongitudeDeg-from.LongitudeDeg)
		}
		w.latitudeDeg = append(w.latitudeDeg, p.LatitudeDeg)
		w.longitudeDeg = append(w.longitudeDeg, p.LongitudeDeg)
	}
}

// heightOf asks for the height of the ground at a place and names the place where
// that fails.
func heightOf(g Ground, what string, p Place) (float64, error) {
	h, err := g.HeightM(p.LatitudeDeg, p.LongitudeDeg)
	if err != nil {
		return 0, fmt.Errorf("ground of %s: %w", what, err)
	}
	return h, nil
}

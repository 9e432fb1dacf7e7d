package terrain

import (
	"fmt"
	"math"
)

// Candidate is a place where somebody could stand with an antenna.
type Candidate struct {
	Name string
	Place
	AntennaM float64 // above ground
}

// maxCandidates bounds a search.
const maxCandidates = 100000

// CandidatesAround returns the places of a grid within a radius of a place, row by
// row from the north, named by how far they are away. Radius and spacing are true
// to 0.5 %.
func CandidatesAround(centre Place, radiusKm, spacingM, antennaM float64) ([]Candidate, error) {
	if err := centre.check(); err != nil {
		return nil, err
	}
	spacing := spacingM / 1000
	if !(radiusKm > 0 && radiusKm <= 200) || !(spacing > 0 && spacing <= 200) {
		return nil, fmt.Errorf("a radius of %v km and a grid of %v m, want over 0 and 200 km at most", radiusKm, spacingM)
	}
	if n := math.Pi * radiusKm * radiusKm / spacing / spacing; n > maxCandidates {
		return nil, fmt.Errorf("%.0f places are too many, want %d at most: take a wider grid or a smaller radius", n, maxCandidates)
	}
	const kmPerDegree = 111.2
	var all []Candidate
	steps := int(radiusKm/spacing + 1e-9)
	for row := steps; row >= -steps; row-- {
		north := float64(row) * spacing
		lat := centre.LatitudeDeg + north/kmPerDegree
		if math.Abs(lat) > 89.9 {
			continue // east and west mean nothing there
		}
		for col := -steps; col <= steps; col++ {
			east := float64(col) * spacing
			if math.Hypot(north, east) > radiusKm*(1+1e-9) {
				continue
			}
			lon := wrap180(centre.LongitudeDeg + east/kmPerDegree/math.Cos(lat*math.Pi/180))
			all = append(all, Candidate{offsetName(north, east), Place{lat, lon}, antennaM})
		}
	}
	return all, nil
}

// offsetName tells how far a place is from the centre.
func offsetName(northKm, eastKm float64) string {
	if northKm == 0 && eastKm == 0 {
		return "centre"
	}
	name := ""
	add := func(km float64, plus, minus string) {
		if km == 0 {
			return
		}
		if name != "" {
			name += ", "
		}
		if km < 0 {
			km, plus = -km, minus
		}
		name += fmt.Sprintf("%.4g km %s", km, plus)
	}
	add(northKm, "N", "S")
	add(eastKm, "E", "W")
	return name
}

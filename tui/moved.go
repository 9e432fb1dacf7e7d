package tui

import (
	"fmt"
	"math"
)

const (
	// movedLeastM is what a receiver's noise may look like; under it nobody has
	// moved. movedMostM is where a reference no longer holds. Common practice,
	// no source.
	movedLeastM, movedMostM = 30.0, 110.0
	// lostDeg is the uncertainty of a facing after that.
	lostDeg = 90.0
)

// watchMoves weakens references that were taken elsewhere, and drops those that
// no longer hold. While a walk is under way nobody has moved for good.
func (m *model) watchMoves() {
	f := &m.finder
	site, known, measured := m.here()
	if !known || !measured || f.walk != nil {
		return
	}
	changed, furthest := false, 0.0
	kept := f.taken[:0]
	for _, t := range f.taken {
		movedM := 0.0
		if t.known {
			movedM = math.Round(roughKm(t.at, site)*100) * 10
		}
		if movedM < movedLeastM {
			movedM = 0
		}
		if movedM > movedMostM {
			changed, furthest = true, movedM
			continue
		}
		changed = changed || movedM != t.MovedM
		t.MovedM = movedM
		kept = append(kept, t)
	}
	f.taken = kept
	if !changed {
		return
	}
	before := m.facing
	m.combine()
	if furthest > 0 {
		if len(kept) == 0 {
			m.facing = facing{known: before.known, deg: before.deg, sigmaDeg: lostDeg, how: "taken elsewhere", sensor: before.sensor, changes: f.changes}
		}
		m.insist(fmt.Sprintf("You have moved %.0f m: what was taken there no longer holds. Find north anew: w", furthest))
	}
}

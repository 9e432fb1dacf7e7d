package track

import (
	"math"
	"strconv"

	"foreaim/track/elements"
)

// What is usual, for want of a history. Sources: T. Flohrer, H. Krag, H.
// Klinkrad, "Assessment and categorization of TLE orbit errors for the US SSN
// catalogue", AMOS 2008 (about 0.5 km along the track at epoch for low orbits);
// C. Levit, W. Marshall, "Improved orbit predictions using two-line elements",
// Advances in Space Research 47 (2011) (about 1 km at epoch, growing by 1 to 3
// km a day); both from memory. That a fifth of the drag is wrong, and what holds
// after a launch: common practice, no source.
const (
	epochErrorKm   = 0.75
	growthKmPerDay = 1.5
	dragShare      = 0.2

	freshDays        = 14
	freshEpochS      = 2
	freshGrowthSADay = 5

	// floorS is the least that LikelyError says, 0.8 km of a low orbit.
	floorS = 0.1
)

// usualError is the time error that sets of an orbit like this commonly have.
type usualError struct {
	epochS      float64 // at age 0
	growthSADay float64
	dragSADay2  float64
	fresh       bool
}

// newUsualError's error is NewOrbit's.
func newUsualError(set elements.Set) (usualError, error) {
	o, err := NewOrbit(set)
	if err != nil {
		return usualError{}, err
	}
	m := unKozai(set)
	kmS := m.n * m.a * sgp4RadiusKm / 60
	u := usualError{epochS: epochErrorKm / kmS, growthSADay: growthKmPerDay / kmS, fresh: isFresh(set)}
	if u.fresh {
		u.epochS, u.growthSADay = freshEpochS, freshGrowthSADay
	}
	// Drag moves the object ahead by 1.5·C1·t² of SGP4, t in minutes.
	const minutes = 24 * 60
	u.dragSADay2 = dragShare * 1.5 * math.Abs(o.drag.c1) * minutes * minutes * 60
	return u, nil
}

// sigma is the standard deviation in seconds at an age in days, 0 or more.
func (u usualError) sigma(days float64) float64 {
	return math.Hypot(u.epochS, math.Hypot(u.growthSADay*days, u.dragSADay2*days*days))
}

// isFresh tells an object that has gone round for less than two weeks, by its
// count of revolutions. That starts again after 99,999 of them: the year of the
// launch tells these apart.
func isFresh(set elements.Set) bool {
	if set.RevolutionNumber <= 0 || len(set.Designator) < 4 {
		return false
	}
	year, err := strconv.Atoi(set.Designator[:4])
	young := err == nil && set.Epoch.UTC().AddDate(0, 0, -freshDays).Year() <= year
	return young && float64(set.RevolutionNumber) < freshDays*set.MeanMotionRevPerDay
}

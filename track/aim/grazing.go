package aim

import (
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// grazingDeg is below what peak a pass is hardly worth going out for: hills and
// houses hide it (common practice, no source).
const grazingDeg = 2

// Grazing tells whether a pass that has not begun is one to leave out where
// nobody chose it: no burst starts in sight in it, or, where nobody knows when
// they start, it may hold none and peaks under 2°.
func Grazing(pass track.Pass, schedule beacon.Schedule, now time.Time) bool {
	if pass.AlwaysUp || !pass.Rise.Time.After(now) {
		return false
	}
	low := pass.Peak.ElevationDeg < grazingDeg
	if schedule.Period == 0 {
		return low
	}
	least, most, err := CountBursts(pass, schedule)
	return err == nil && (most == 0 || low && least == 0)
}

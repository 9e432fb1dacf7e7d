package aim

import (
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
)

// CountBursts returns the least and the most bursts that can start in sight in a
// pass: what the skyline hides doesn't count. The two are equal when the phase
// is known. The error is the schedule's, which tells of no period.
func CountBursts(pass track.Pass, schedule beacon.Schedule) (least, most int, err error) {
	if len(pass.Hidden) == 0 {
		return schedule.Count(pass.Rise.Time, pass.Set.Time)
	}
	phases := []time.Time{schedule.First}
	if !schedule.Known() {
		// The count changes only where a burst enters or leaves the sight.
		phases = nil
		for _, i := range pass.InSight() {
			phases = append(phases, i.From, i.To)
		}
	}
	least = math.MaxInt
	for _, first := range phases {
		schedule.First = first
		sum := 0
		for _, i := range pass.InSight() {
			count, _, err := schedule.Count(i.From, i.To)
			if err != nil {
				return 0, 0, err
			}
			sum += count
		}
		least, most = min(least, sum), max(most, sum)
	}
	return least, most, nil
}

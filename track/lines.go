package track

import (
	"fmt"
	"math"
	"time"

	"foreaim/track/elements"
)

// The years that the two digits of the propagator's lines can say.
const firstYear, lastYear = 1957, 2056

// checkRanges refuses what the two lines for the propagator can't hold, so
// that nothing malformed reaches it. Messages give value and range.
func checkRanges(set elements.Set) error {
	err := set.Check()
	if year := set.Epoch.UTC().Year(); err == nil && (year < firstYear || year > lastYear) {
		err = fmt.Errorf("epoch's year is %d, want %d to %d", year, firstYear, lastYear)
	}
	if err != nil {
		return fmt.Errorf("%s: %w: %w", label(set), ErrElements, err)
	}
	return nil
}

// lines writes a set that passed checkRanges as the two lines that the
// propagator reads, with another epoch. Only what it reads is filled in: the
// catalogue number is always 1, so any number will do, and checksums are left
// out. Values are rounded as in any two-line set (angles to 0.0001°,
// eccentricity to 1e-7, mean motion to 1e-8 rev/day, drag to five digits);
// for a message with more digits this costs about 0.2 m a day.
func lines(set elements.Set, epoch time.Time) (string, string) {
	midnight := epoch.Truncate(24 * time.Hour)
	day := float64(epoch.YearDay()) + epoch.Sub(midnight).Seconds()/86400
	ecc := math.Min(math.Round(set.Eccentricity*1e7), 9999999)
	return fmt.Sprintf("1 00001U 00000A   %02d%012.8f  .00000000  00000+0 %s 0    0", epoch.Year()%100, day, dragField(set.BStar)),
		fmt.Sprintf("2 00001 %8.4f %8.4f %07.0f %8.4f %8.4f %11.8f    0", set.InclinationDeg,
			Wrap360(set.NodeDeg), ecc, Wrap360(set.PerigeeDeg), Wrap360(set.AnomalyDeg), set.MeanMotionRevPerDay)
}

// dragField writes a number as sign, five digits behind an implied point, and
// a signed one-digit power of ten. Below 1e-14 it is 0.
func dragField(v float64) string {
	sign := ' '
	if v < 0 {
		sign, v = '-', -v
	}
	if v < 1e-14 {
		return " 00000+0"
	}
	exp := int(math.Floor(math.Log10(v))) + 1
	exp = max(exp, -9)
	digits := math.Round(v / math.Pow(10, float64(exp)) * 1e5)
	if digits >= 1e5 {
		digits, exp = math.Round(digits/10), exp+1
	}
	return fmt.Sprintf("%c%05.0f%+d", sign, digits, exp)
}

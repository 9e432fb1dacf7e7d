package track

import (
	"fmt"
	"math"
	"strings"
)

// A Maidenhead locator names a square by pairs of characters, longitude first:
// fields of 20° by 10° (A to R), then tenths (digits), 24ths (A to X), tenths,
// 24ths. (IARU Region 1, "Locator System", 1980; common practice for the
// fourth and fifth pair.)
const locatorForm = "want 4, 6, 8 or 10 characters such as IO77, IO77wf, IO77wf41 or IO77wf41xx"

func locatorBase(pair int) (count int, first byte) {
	switch {
	case pair == 0:
		return 18, 'A'
	case pair%2 == 1:
		return 10, '0'
	default:
		return 24, 'A'
	}
}

func parseLocator(text string) (Site, error) {
	if n := len(text); n < 4 || n > 10 || n%2 != 0 {
		return Site{}, fmt.Errorf("site %q is neither LAT,LON[,HEIGHT_M] nor a locator: %s", text, locatorForm)
	}
	width := [2]float64{360, 180} // degrees of longitude, latitude
	low := [2]float64{-180, -90}
	for i := range len(text) {
		count, first := locatorBase(i / 2)
		c := text[i]
		if c >= 'a' && c <= 'z' {
			c -= 'a' - 'A'
		}
		digit := int(c) - int(first)
		if digit < 0 || digit >= count {
			return Site{}, fmt.Errorf("site %q is not a locator: character %d is %q, want %c to %c; %s",
				text, i+1, text[i:i+1], first, int(first)+count-1, locatorForm)
		}
		axis := i % 2
		width[axis] /= float64(count)
		low[axis] += float64(digit) * width[axis]
	}
	return Site{LatitudeDeg: low[1] + width[1]/2, LongitudeDeg: low[0] + width[0]/2}, nil
}

// Locator returns the site's six-character Maidenhead locator, such as
// "IO77wf". It is empty where Check fails.
func (s Site) Locator() string {
	if s.Check() != nil {
		return ""
	}
	at := [2]float64{s.LongitudeDeg + 180, s.LatitudeDeg + 90}
	width := [2]float64{360, 180}
	// The date line's and the pole's far edges belong to the last square.
	for i := range at {
		at[i] = math.Min(at[i], math.Nextafter(width[i], 0))
	}
	var b strings.Builder
	for i := range 6 {
		count, first := locatorBase(i / 2)
		axis := i % 2
		width[axis] /= float64(count)
		digit := min(int(at[axis]/width[axis]), count-1)
		at[axis] -= float64(digit) * width[axis]
		if i >= 4 {
			first = 'a'
		}
		b.WriteByte(first + byte(digit))
	}
	return b.String()
}

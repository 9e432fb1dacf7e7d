package main

import (
	"math"
	"strconv"
	"strings"
)

// The frequencies that make sense here: below, the text is likely to be
// megahertz without the unit.
const (
	lowestHz  = 1e6
	highestHz = 300e9
)

// parseFrequency reads a frequency in hertz: "437500000", "437.5M" or
// "437.5 MHz", with k, M or G.
func parseFrequency(text string) (float64, error) {
	const hint = "frequencies look like 437500000, 437.5M or \"437.5 MHz\""
	number := strings.TrimSpace(text)
	if n := len(number); n > 2 && strings.EqualFold(number[n-2:], "hz") {
		number = strings.TrimSpace(number[:n-2])
	}
	factor := 1.0
	if n := len(number); n > 1 {
		switch number[n-1] {
		case 'k', 'K':
			factor = 1e3
		case 'M':
			factor = 1e6
		case 'G', 'g':
			factor = 1e9
		case 'm':
			return 0, wrong(hint, "%q is millihertz; megahertz is a capital M", text)
		}
		if factor != 1 {
			number = strings.TrimSpace(number[:n-1])
		}
	}
	hz, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(hz) || math.IsInf(hz, 0) {
		return 0, wrong(hint, "%q is not a frequency", text)
	}
	// The product of a decimal fraction and a power of ten may be off by a
	// millionth of a hertz; nobody means that.
	hz = math.Round(hz*factor*1e3) / 1e3
	if hz < lowestHz || hz > highestHz {
		return 0, wrong(hint, "%q is not between 1 MHz and 300 GHz", text)
	}
	return hz, nil
}

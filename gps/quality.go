package gps

import "strings"

// The words of Fix.Quality.
const (
	none         = "none"
	plain        = "gps"
	differential = "differential"
	rtk          = "rtk"
	estimated    = "estimated" // dead reckoning
	entered      = "fixed"     // typed in, not measured
	simulated    = "simulated"
)

// qualityOfDigit gives the word for the quality of GGA. 3 is the precise
// service, 4 and 5 are carrier phase, 9 is used by some makers for a fix with
// augmentation; 6 to 8 as in NMEA 0183 since 2.3.
func qualityOfDigit(digit string) string {
	switch digit {
	case "1", "3", "9":
		return plain
	case "2":
		return differential
	case "4", "5":
		return rtk
	case "6":
		return estimated
	case "7":
		return entered
	case "8":
		return simulated
	}
	return none
}

// qualityOfModes gives the word for the mode letters of GNS, one a system: the
// best of them, but one that simulates spoils all.
func qualityOfModes(letters string) string {
	for _, group := range []struct{ letters, word string }{
		{"S", simulated}, {"RF", rtk}, {"D", differential}, {"AP", plain}, {"E", estimated}, {"M", entered},
	} {
		if strings.ContainsAny(letters, group.letters) {
			return group.word
		}
	}
	return none
}

// qualityOfStatus gives the word for status and mode of RMC and GLL. Old
// receivers send no mode; one that isn't in the standard counts as a plain fix.
func qualityOfStatus(status, mode string) string {
	switch {
	case mode == "S":
		return simulated
	case status != "A" || mode == "N":
		return none
	case mode == "" || !strings.Contains("RFDEM", mode):
		return plain
	}
	return qualityOfModes(mode)
}

// measured tells whether a quality rests on satellites now, so that its time
// can be trusted.
func measured(quality string) bool {
	return quality == plain || quality == differential || quality == rtk
}

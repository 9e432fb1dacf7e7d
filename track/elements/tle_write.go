package elements

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// TLE writes the set as two lines of 69 columns with right checksums, as
// Read reads them: a set that was read from a TLE comes back with the same
// values. To write it for another epoch, change Epoch in a copy.
//
// What an OMM gives beyond a TLE's columns is rounded: the epoch to 864 µs
// (half of it, 432 µs, is 3 m along a low orbit), angles to 0.0001°,
// eccentricity to 1e-7, mean motion to 1e-8 revolutions a day, drag and the
// second derivative to five digits. The name is left out, and so is a
// designator that is not of the usual form; element and revolution number are
// cut to their last four and five digits. Catalogue number 0 is written 00000.
//
// The error says what a TLE can't carry: catalogue numbers above 339999,
// epochs outside 1957 to 2056, derivatives that are too large, and anything
// that is out of range. A caller that only propagates may set
// CatalogueNumber, MeanMotionDot and MeanMotionDDot to 0 in its copy.
func (s Set) TLE() (line1, line2 string, err error) {
	if line1, line2, err = s.tle(); err != nil {
		return "", "", fmt.Errorf("%s can't be written as a TLE: %w", s.label(), err)
	}
	return line1, line2, nil
}

func (s Set) tle() (line1, line2 string, err error) {
	if err := s.Check(); err != nil {
		return "", "", err
	}
	number, err := FormatAlpha5(s.CatalogueNumber)
	if err != nil {
		return "", "", err
	}
	class := byte(' ')
	if s.Classification != 0 {
		class = s.Classification
	}
	if !oneOf(class, " UCS") {
		return "", "", fmt.Errorf("classification is %q, want U, C, S or none", class)
	}
	if s.ElementNumber < 0 || s.RevolutionNumber < 0 {
		return "", "", fmt.Errorf("element number %d or revolution number %d is negative", s.ElementNumber, s.RevolutionNumber)
	}
	epoch, err := formatTLEEpoch(s.Epoch)
	if err != nil {
		return "", "", err
	}
	dot, err := formatPoint(s.MeanMotionDot)
	if err != nil {
		return "", "", err
	}
	ddot, err := formatPower(s.MeanMotionDDot)
	if err != nil {
		return "", "", err
	}
	bstar, err := formatPower(s.BStar)
	if err != nil {
		return "", "", err
	}
	line1 = fmt.Sprintf("1 %s%c %-8s %s %s %s %s 0 %4d",
		number, class, shortDesignator(s.Designator), epoch, dot, ddot, bstar, s.ElementNumber%10000)
	line2 = fmt.Sprintf("2 %s %8.4f %s %s %s %s %11.8f%5d",
		number, s.InclinationDeg, formatAngle(s.NodeDeg), strings.TrimPrefix(fmt.Sprintf("%.7f", s.Eccentricity), "0."),
		formatAngle(s.PerigeeDeg), formatAngle(s.AnomalyDeg), s.MeanMotionRevPerDay, s.RevolutionNumber%100000)
	return line1 + strconv.Itoa(Checksum(line1)), line2 + strconv.Itoa(Checksum(line2)), nil
}

// formatAngle writes an angle as 8 columns within [0, 360).
func formatAngle(deg float64) string {
	text := fmt.Sprintf("%8.4f", turn(deg))
	if text == "360.0000" {
		return "  0.0000"
	}
	return text
}

// formatPoint writes a number below 1 as sign, point and eight digits.
func formatPoint(v float64) (string, error) {
	text := strconv.FormatFloat(math.Abs(v), 'f', 8, 64)
	if text[0] != '0' {
		return "", fmt.Errorf("%s of %v is too large for its columns", motionDot.name, v)
	}
	return signOf(v, text[1:] == ".00000000") + text[1:], nil
}

// formatPower writes sign, five digits with the point assumed before them, and
// the power of ten.
func formatPower(v float64) (string, error) {
	mantissa, power := 0, 0
	if v != 0 {
		text := strconv.FormatFloat(math.Abs(v), 'e', 4, 64) // d.dddde±pp
		power, _ = strconv.Atoi(text[7:])
		power++
		mantissa, _ = strconv.Atoi(text[:1] + text[2:6])
	}
	if power > 9 {
		return "", fmt.Errorf("%v is too large for its columns", v)
	}
	if power < -9 { // too small for five digits: fewer, down to none
		mantissa, power = int(math.Round(math.Abs(v)*1e14)), -9
	}
	if mantissa == 0 {
		power = 0
	}
	return fmt.Sprintf("%s%05d%+d", signOf(v, mantissa == 0), mantissa, power), nil
}

func signOf(v float64, zero bool) string {
	if v < 0 && !zero {
		return "-"
	}
	return " "
}

// shortDesignator turns YYYY-NNNPPP into YYNNNPPP; empty if it is not of that
// form.
func shortDesignator(long string) string {
	year, rest, ok := strings.Cut(long, "-")
	n, isYear := digits(year)
	if !ok || !isYear || len(year) != 4 || n < firstYear || n > lastTLEYear || len(rest) < 3 || len(rest) > 6 {
		return ""
	}
	if !allDigits([]byte(rest[:3])) || !allCapitals([]byte(rest[3:])) {
		return ""
	}
	return year[2:] + rest
}

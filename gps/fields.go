package gps

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/adrianmo/go-nmea"
)

// layout names the fields of a kind of sentence, one letter each; nothing for
// kinds that aren't read.
//
//	t  time hhmmss[.s]       d  date ddmmyy
//	a  latitude, A its N/S   o  longitude, O its E/W
//	q  quality, one digit    u  whole number
//	p  dilution              h  height, m
//	g  geoid height, m       M  its unit, metres
//	b  bearing, 0 to 360     v  angle, 0 to 180
//	V  its E/W               x  checked by the library
//	.  not read: emptied, so that what it holds can do no harm
//	*  groups of four fields, see tilt
//
// GGA and GNS: receivers differ in how many fields they send; missing ones at
// the end are taken as empty, more are ignored.
func layout(kind string) string {
	switch kind {
	case nmea.TypeGGA:
		return "taAoOquphMgM.."
	case nmea.TypeRMC:
		return "txaAoO..d..x"
	case nmea.TypeGLL:
		return "aAoOtxx"
	case nmea.TypeGNS:
		return "taAoOxuphg.."
	case nmea.TypeZDA:
		return "tuuu.."
	case nmea.TypeGSA:
		return "xx..............."
	case nmea.TypeHDT, nmea.TypeHDM, nmea.TypeTHS:
		return "bx"
	case nmea.TypeHDG:
		return "bvVvV"
	case nmea.TypeXDR:
		return "*"
	}
	return ""
}

// prepare checks the fields that the library is too kind to and completes those
// that it insists on. It refuses what can't be true.
func (r *reader) prepare(s *nmea.BaseSentence) error {
	want := layout(s.Type)
	if want == "*" {
		return tilt(s)
	}
	fields := make([]string, len(want))
	copy(fields, s.Fields)
	for i := range fields {
		if want[i] == '.' {
			fields[i] = ""
		}
		if !believable(want[i], fields[i]) {
			return fmt.Errorf("%w: field %d of %s can't be %q", errField, i+1, s.Type, fields[i])
		}
	}
	for i := range fields {
		switch want[i] {
		case 'A', 'O': // letters kept without a number
			if fields[i-1] == "" {
				fields[i] = ""
			}
		case 'V':
			if (fields[i-1] == "") != (fields[i] == "") {
				return fmt.Errorf("%w: field %d of %s needs E or W", errField, i, s.Type)
			}
		case 'q':
			r.quality = fields[i]
			fields[i] = "" // the library refuses 7, 8 and 9
		}
	}
	s.Fields = fields
	return nil
}

// believable tells whether a field of that letter of layout can be true. Empty
// fields can.
func believable(letter byte, field string) bool {
	if field == "" {
		return true
	}
	within := func(low, high float64) bool {
		value, ok := plainNumber(field)
		return ok && value >= low && value <= high
	}
	switch letter {
	case 't':
		return clockField(field)
	case 'a':
		return angle(field, 90)
	case 'o':
		return angle(field, 180)
	case 'A':
		return field == nmea.North || field == nmea.South
	case 'O', 'V':
		return field == nmea.East || field == nmea.West
	case 'd':
		return digits(field) && len(field) == 6
	case 'q':
		return digits(field) && len(field) == 1
	case 'u':
		return digits(field) && len(field) <= 4
	case 'p':
		return within(0, 1e4)
	case 'h':
		return within(-1000, 1e5)
	case 'g':
		return within(-150, 150) // the geoid keeps within -107 and +86 m
	case 'M':
		return field == nmea.UnitMeters
	case 'b':
		return within(0, 360)
	case 'v':
		return within(0, 180)
	}
	return true
}

// clockField checks hhmmss[.s]; second 60 is a leap second.
func clockField(field string) bool {
	whole, fraction, point := strings.Cut(field, ".")
	return digits(whole) && len(whole) == 6 && len(field) <= 16 &&
		(!point || fraction == "" || digits(fraction)) &&
		whole[:2] < "24" && whole[2:4] < "60" && whole[4:6] <= "60"
}

// angle checks degrees and minutes in one number, dddmm.m, up to limit degrees.
func angle(field string, limit float64) bool {
	value, ok := plainNumber(field)
	if !ok || field[0] == '-' || field[0] == '+' {
		return false
	}
	degrees := float64(int(value / 100))
	minutes := value - degrees*100
	return minutes < 60 && degrees+minutes/60 <= limit
}

// plainNumber reads a plain decimal number: a sign, digits, a point. Exponents,
// "inf", "nan" and hexadecimal, which strconv accepts, are none.
func plainNumber(field string) (float64, bool) {
	if len(field) > 24 || strings.Trim(field, "0123456789.+-") != "" {
		return 0, false
	}
	value, err := strconv.ParseFloat(field, 64)
	return value, err == nil
}

// digits tells whether a text is digits only.
func digits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

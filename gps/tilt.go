package gps

import (
	"fmt"
	"math"
	"strings"

	"github.com/adrianmo/go-nmea"
)

// The limits of a tilt in degrees.
const (
	steepestPitch = 90
	furthestRoll  = 180
)

// tilt prepares an XDR for the library: of its groups of type, value, unit and
// name it leaves those that are a pitch or a roll. All else that transducers
// measure is none of ours, and the library would refuse the whole sentence for
// a unit that it doesn't know. A group cut short at the end is left out.
//
// Sensors write them as A,value,D,NAME with the names PITCH, PTCH and ROLL, in
// capitals or not (common practice, no source). Some send numbers that are no
// degrees under that unit: a sentence with one out of range is not used.
func tilt(s *nmea.BaseSentence) error {
	var kept []string
	for group := s.Fields; len(group) >= 4; group = group[4:] {
		kind, value, unit, name := group[0], group[1], group[2], group[3]
		if kind != nmea.TransducerAngularDisplacementXDR || unit != nmea.UnitDegrees || !isPitch(name) && !isRoll(name) {
			continue
		}
		deg, number := plainNumber(value)
		limit := float64(furthestRoll)
		if isPitch(name) {
			limit = steepestPitch
		}
		switch {
		case value == "": // not known now
		case !number:
			return fmt.Errorf("%w: %s of %s can't be %q", errField, name, s.Type, value)
		case math.Abs(deg) > limit:
			s.Fields = nil
			return nil
		default:
			kept = append(kept, group[:4]...)
		}
	}
	s.Fields = kept
	return nil
}

func isPitch(name string) bool {
	return strings.EqualFold(name, "PITCH") || strings.EqualFold(name, "PTCH")
}

func isRoll(name string) bool { return strings.EqualFold(name, "ROLL") }

package gps

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/adrianmo/go-nmea"
)

// Why a line is refused.
var (
	errCut      = errors.New("no start or no checksum: cut, or not a sentence")
	errChecksum = errors.New("wrong checksum")
	errField    = errors.New("impossible content")
)

// sentence is what one sentence says, before anything is believed.
type sentence struct {
	kind string // "GGA" and so on; empty for one that isn't read

	timeKnown bool
	timeOfDay time.Duration // since 00:00 UTC; a leap second is 24 h and more
	date      time.Time     // 00:00 UTC of the day, zero when not given

	position                  bool // the position was given, whatever it is worth
	latitudeDeg, longitudeDeg float64
	quality                   string // as Fix.Quality; empty where it isn't said

	altitudeKnown, geoidKnown bool
	altitudeM, geoidM         float64 // above mean sea level; geoid above ellipsoid
	satellites                int     // -1 when not given
	hdop                      float64 // 0 when not given
	dimensions                int     // of GSA: 1 no fix, 2, 3; 0 when not said

	heading Heading // of the sensor's sentences; nothing known: no heading now
}

// reader reads sentences. It belongs to one decoder: the library's parser is
// not to be shared.
type reader struct {
	parser  nmea.SentenceParser
	quality string // of the sentence being read, before the library sees it
}

// newReader prepares the library's parser: sums are checked before it, and
// fields are checked, completed and trimmed on their way to it.
func newReader() *reader {
	r := &reader{}
	r.parser.CheckCRC = func(nmea.BaseSentence, string) error { return nil }
	r.parser.OnBaseSentence = r.prepare
	return r
}

// read reads one line. The error wraps errCut, errChecksum or errField. Lines
// without a checksum are refused: on a noisy line there is no other way to tell
// a good one, and receivers all send it.
func (r *reader) read(raw []byte) (sentence, error) {
	line := strings.TrimSpace(string(raw))
	if i := strings.LastIndexAny(line, "$!"); i > 0 {
		line = line[i:]
	}
	if err := checkSum(line); err != nil {
		return sentence{}, err
	}
	kind := kindOf(line)
	if layout(kind) == "" {
		return sentence{}, nil
	}
	parsed, err := r.parser.Parse(line)
	if err != nil {
		return sentence{}, fmt.Errorf("%w: %w", errField, err)
	}
	return r.take(kind, parsed)
}

// checkSum checks start, end, characters and checksum of a line.
func checkSum(line string) error {
	if line == "" || (line[0] != '$' && line[0] != '!') {
		return errCut
	}
	star := strings.IndexByte(line, '*')
	if star < 0 || star != len(line)-3 {
		return errCut
	}
	var sum byte
	for i := 1; i < star; i++ {
		if line[i] < ' ' || line[i] > '~' {
			return errField
		}
		sum ^= line[i]
	}
	if !strings.EqualFold(line[star+1:], fmt.Sprintf("%02X", sum)) {
		return errChecksum
	}
	return nil
}

// kindOf gives the three letters after the two of the talker, whichever that
// is; nothing for makers' own sentences and encapsulated data.
func kindOf(line string) string {
	address, _, ok := strings.Cut(line[1:], ",")
	if !ok || line[0] != '$' || len(address) != 5 || address[0] == 'P' {
		return ""
	}
	return address[2:]
}

// take copies what is wanted out of the library's types.
func (r *reader) take(kind string, parsed nmea.Sentence) (sentence, error) {
	s := sentence{kind: kind, satellites: -1}
	switch m := parsed.(type) {
	case nmea.GGA:
		s.setTime(m.Time)
		s.setPosition(m.Latitude, m.Longitude, m.Fields[1], m.Fields[3])
		s.quality = qualityOfDigit(r.quality)
		s.setHeight(m.Altitude, m.Separation, m.Fields[8], m.Fields[10])
		s.setCount(m.NumSatellites, m.HDOP, m.Fields[6])
	case nmea.GNS:
		s.setTime(m.Time)
		s.setPosition(m.Latitude, m.Longitude, m.Fields[1], m.Fields[3])
		s.quality = qualityOfModes(m.Fields[5])
		s.setHeight(m.Altitude, m.Separation, m.Fields[8], m.Fields[9])
		s.setCount(m.SVs, m.HDOP, m.Fields[6])
	case nmea.RMC:
		s.setTime(m.Time)
		s.setPosition(m.Latitude, m.Longitude, m.Fields[2], m.Fields[4])
		s.quality = qualityOfStatus(m.Validity, m.FFAMode)
		if m.Date.Valid {
			return s, s.setDate(m.Date.DD, m.Date.MM, m.Date.YY)
		}
	case nmea.GLL:
		s.setTime(m.Time)
		s.setPosition(m.Latitude, m.Longitude, m.Fields[0], m.Fields[2])
		s.quality = qualityOfStatus(m.Validity, m.FFAMode)
	case nmea.ZDA:
		s.setTime(m.Time)
		return s, s.setDate(int(m.Day), int(m.Month), int(m.Year))
	case nmea.GSA:
		s.dimensions = map[string]int{nmea.FixNone: 1, nmea.Fix2D: 2, nmea.Fix3D: 3}[m.FixType]
	default:
		s.heading = headingOf(parsed)
	}
	return s, nil
}

// setTime takes the time of day.
func (s *sentence) setTime(t nmea.Time) {
	s.timeKnown = t.Valid
	s.timeOfDay = time.Duration(t.Hour)*time.Hour + time.Duration(t.Minute)*time.Minute +
		time.Duration(t.Second)*time.Second + time.Duration(t.Millisecond)*time.Millisecond
}

// setPosition takes a position unless a field of it was empty.
func (s *sentence) setPosition(latitudeDeg, longitudeDeg float64, latitude, longitude string) {
	if latitude == "" || longitude == "" {
		return
	}
	s.position, s.latitudeDeg, s.longitudeDeg = true, latitudeDeg, longitudeDeg
}

// setHeight takes the height above mean sea level and the geoid's height.
func (s *sentence) setHeight(altitudeM, geoidM float64, altitude, geoid string) {
	s.altitudeKnown, s.geoidKnown = altitude != "", geoid != ""
	s.altitudeM, s.geoidM = altitudeM, geoidM
}

// setCount takes the satellites used and the dilution. Receivers write 99 and
// more for a dilution that they don't know.
func (s *sentence) setCount(satellites int64, hdop float64, field string) {
	if field != "" {
		s.satellites = int(satellites)
	}
	if hdop > 0 && hdop < 99 {
		s.hdop = hdop
	}
}

// setDate takes a date. Two-digit years 80 to 99 are of the last century: GPS
// time begins in 1980. Day or month 0 is how some say that they don't know.
func (s *sentence) setDate(day, month, year int) error {
	if day == 0 || month == 0 {
		return nil
	}
	switch {
	case year < 80:
		year += 2000
	case year < 100:
		year += 1900
	}
	date := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if date.Day() != day || int(date.Month()) != month || year > 9999 {
		return fmt.Errorf("%w: date %04d-%02d-%02d", errField, year, month, day)
	}
	s.date = date
	return nil
}

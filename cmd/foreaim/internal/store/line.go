package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"strconv"
	"strings"
	"time"

	"foreaim/track/elements"
)

// epochLayout is that of the standard's messages.
const epochLayout = "2006-01-02T15:04:05.999999999"

// line is one set as a file has it.
type line struct {
	object Object
	epoch  time.Time
	format elements.Format
	omm    string
}

// newLine writes a set. It fails where the set has what no message can hold.
func newLine(set elements.Set) (line, error) {
	omm, err := appendOMM(nil, set)
	return line{ObjectOf(set), set.Epoch.UTC(), set.Format, string(omm)}, err
}

// text returns the line as it is in the file, with its end.
func (l line) text() string {
	format := l.format
	if format == "" {
		format = "-"
	}
	rest := string(l.object) + " " + l.epoch.Format(epochLayout) + " " + string(format) + " " + l.omm
	return fmt.Sprintf("%08x %s\n", sum(rest), rest)
}

func sum(text string) uint32 { return crc32.ChecksumIEEE([]byte(text)) }

var (
	errSum  = errors.New("the sum at its start is not that of the rest")
	errLine = errors.New("it is not SUM OBJECT EPOCH FORMAT OMM")
)

// parseLine reads a line without its end.
func parseLine(text string) (line, error) {
	head, rest, ok := strings.Cut(text, " ")
	if !ok || len(head) != 8 {
		return line{}, errLine
	}
	want, err := strconv.ParseUint(head, 16, 32)
	if err != nil || uint32(want) != sum(rest) {
		return line{}, errSum
	}
	object, rest, ok1 := strings.Cut(rest, " ")
	epochText, rest, ok2 := strings.Cut(rest, " ")
	format, omm, ok3 := strings.Cut(rest, " ")
	epoch, err := time.Parse(epochLayout, epochText)
	if !ok1 || !ok2 || !ok3 || err != nil || omm == "" {
		return line{}, errLine
	}
	if format == "-" {
		format = ""
	}
	return line{Object(object), epoch, elements.Format(format), omm}, nil
}

// appendOMM writes a set as one JSON object on one line, so that Read gives
// every value of it back to the last bit.
func appendOMM(b []byte, s elements.Set) ([]byte, error) {
	b = append(b, `{"EPOCH":"`...)
	b = s.Epoch.UTC().AppendFormat(b, epochLayout)
	b = append(b, '"')
	for _, f := range []struct{ key, value string }{
		{"OBJECT_NAME", s.Name},
		{"OBJECT_ID", s.Designator},
		{"CLASSIFICATION_TYPE", strings.Trim(string(rune(s.Classification)), "\x00")},
	} {
		if f.value == "" {
			continue
		}
		text, err := json.Marshal(f.value)
		if err != nil {
			return nil, err
		}
		b = append(append(append(b, `,"`...), f.key...), `":`...)
		b = append(b, text...)
	}
	for _, f := range []struct {
		key   string
		value float64
	}{
		{"MEAN_MOTION", s.MeanMotionRevPerDay},
		{"ECCENTRICITY", s.Eccentricity},
		{"INCLINATION", s.InclinationDeg},
		{"RA_OF_ASC_NODE", s.NodeDeg},
		{"ARG_OF_PERICENTER", s.PerigeeDeg},
		{"MEAN_ANOMALY", s.AnomalyDeg},
		{"BSTAR", s.BStar},
		{"MEAN_MOTION_DOT", s.MeanMotionDot},
		{"MEAN_MOTION_DDOT", s.MeanMotionDDot},
		{"NORAD_CAT_ID", float64(s.CatalogueNumber)},
		{"ELEMENT_SET_NO", float64(s.ElementNumber)},
		{"REV_AT_EPOCH", float64(s.RevolutionNumber)},
	} {
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return nil, fmt.Errorf("%s is %v", f.key, f.value)
		}
		b = append(append(append(b, `,"`...), f.key...), `":`...)
		if whole := math.Trunc(f.value); whole == f.value && math.Abs(whole) < 1e15 {
			b = strconv.AppendInt(b, int64(whole), 10)
		} else {
			b = strconv.AppendFloat(b, f.value, 'g', -1, 64)
		}
	}
	return append(b, '}'), nil
}

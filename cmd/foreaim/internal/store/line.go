package store

import (
	"errors"
	"fmt"
	"hash/crc32"
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

// newLines writes sets as lines. It fails where one has what no message can
// hold.
func newLines(sets []elements.Set) ([]line, error) {
	var array strings.Builder
	if err := elements.WriteJSON(&array, sets); err != nil {
		return nil, err
	}
	omms := strings.Split(strings.TrimSuffix(strings.TrimPrefix(array.String(), "["), "]\n"), ",\n")
	lines := make([]line, len(sets))
	for i, set := range sets {
		lines[i] = line{ObjectOf(set), set.Epoch.UTC(), set.Format, omms[i]}
	}
	return lines, nil
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

package elements

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"foreaim/track/internal/csvfile"
)

// field is one keyword of a message to be written. The value of a text is
// clean; that of a number is as JSON and KVN both print it.
type field struct {
	key   key // keyCount for a user-defined parameter
	name  string
	value string // may be empty
}

// block is the part of the message where the field stands.
func (f field) block() block {
	if f.key == keyCount {
		return blockUser
	}
	return keywords[f.key].block
}

// numeric tells whether the value is a number.
func (f field) numeric() bool { return f.key < keyCount && keywords[f.key].numeric }

// fields are all keywords of the set in the standard's order, with those left
// empty that it does not have. The error says what can't be written.
func (s Set) fields() ([]field, error) {
	all, err := s.keywords()
	if err != nil {
		return nil, fmt.Errorf("%s can't be written as an OMM: %w", s.label(), err)
	}
	return all, nil
}

func (s Set) keywords() ([]field, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := s.Rest.check(); err != nil {
		return nil, err
	}
	if s.CatalogueNumber < 0 || s.CatalogueNumber > maxInteger || s.ElementNumber < 0 || s.ElementNumber > maxInteger ||
		s.RevolutionNumber < 0 || s.RevolutionNumber > maxInteger {
		return nil, fmt.Errorf("catalogue number %d, element number %d or revolution number %d is not from 0 to %d",
			s.CatalogueNumber, s.ElementNumber, s.RevolutionNumber, maxInteger)
	}
	if s.Classification != 0 && !oneOf(s.Classification, "UCS") {
		return nil, fmt.Errorf("classification is %q, want U, C, S or none", s.Classification)
	}
	if y := s.Epoch.UTC().Year(); y < firstYear || y > lastOMMYear {
		return nil, fmt.Errorf("epoch in the year %d, want %d to %d", y, firstYear, lastOMMYear)
	}
	values := s.values()
	all := make([]field, 0, keyCount)
	for name, text := range s.Rest.All() {
		k, known := keyNames[name]
		if !known {
			k = keyCount
		}
		all = append(all, field{k, name, text})
	}
	for k := marking; k < keyCount; k++ {
		if text, own := values[k]; own {
			all = append(all, field{k, k.String(), text})
		}
	}
	slices.SortStableFunc(all, func(a, b field) int { return int(a.key - b.key) })
	return all, nil
}

// values are the keywords that the fields of Set stand for.
func (s Set) values() map[key]string {
	values := map[key]string{
		objectName:      csvfile.Clean(s.Name, maxName),
		objectID:        csvfile.Clean(s.Designator, maxDesignator),
		center:          "EARTH",
		frame:           "TEME",
		timeSystem:      "UTC",
		theory:          "SGP4",
		epoch:           formatOMMEpoch(s.Epoch),
		keyMotion:       number(s.MeanMotionRevPerDay),
		keyEccentricity: number(s.Eccentricity),
		keyInclination:  number(s.InclinationDeg),
		keyNode:         number(turn(s.NodeDeg)),
		keyPericenter:   number(turn(s.PerigeeDeg)),
		keyAnomaly:      number(turn(s.AnomalyDeg)),
		ephemerisType:   "0",
		classification:  "",
		catalogID:       "",
		elementSet:      strconv.Itoa(s.ElementNumber),
		revolution:      strconv.Itoa(s.RevolutionNumber),
		keyDrag:         number(s.BStar),
		keyMotionDot:    number(s.MeanMotionDot),
		keyMotionDDot:   number(s.MeanMotionDDot),
	}
	if s.Classification != 0 {
		values[classification] = string(rune(s.Classification))
	}
	if s.CatalogueNumber > 0 {
		values[catalogID] = strconv.Itoa(s.CatalogueNumber)
	}
	return values
}

// number prints the fewest digits that read back as v, as JSON and KVN both
// allow; powers of ten only where there would be a long row of zeros.
func number(v float64) string {
	if v != 0 && math.Abs(v) < 1e-15 {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64) // no negative zero
}

// writeAll calls each for every set and gathers what it writes.
func writeAll(w io.Writer, sets []Set, each func(b *bufio.Writer, i int, fields []field)) error {
	b := bufio.NewWriter(w)
	for i, s := range sets {
		fields, err := s.fields()
		if err != nil {
			return err
		}
		each(b, i, fields)
	}
	return b.Flush()
}

// served are the metadata that the public catalogue leaves out of JSON and CSV,
// because they are the same for all of its sets.
func served(k key) bool {
	return k != center && k != frame && k != timeSystem && k != theory
}

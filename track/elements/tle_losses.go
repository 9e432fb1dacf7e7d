package elements

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"foreaim/track/internal/csvfile"
)

// tleName is how many characters line 0 of a three-line set has.
const tleName = 24

// WriteTLE writes the sets as three-line sets, a name line and the two lines
// of TLE each; the name line is left out where there is no name. What is lost
// TLELosses tells.
func WriteTLE(w io.Writer, sets []Set) error {
	b := bufio.NewWriter(w)
	for _, s := range sets {
		line1, line2, err := s.TLE()
		if err != nil {
			return err
		}
		if name := s.nameLine(); name != "" {
			b.WriteString(name + "\n")
		}
		b.WriteString(line1 + "\n" + line2 + "\n")
	}
	return b.Flush()
}

// nameLine is line 0, with the leading 0 only where the name alone would be
// taken for something else.
func (s Set) nameLine() string {
	name := csvfile.Clean(clipName(csvfile.Clean(s.Name, maxName)), tleName)
	if name == "" {
		return ""
	}
	if name[0] == '#' || kind([]byte(name)) != 0 || nameOf([]byte(name)) != name || isCSV([]byte(name)) || isKVN([]byte(name)) || oneOf(name[0], "{[<") {
		return "0 " + name
	}
	return name
}

func clipName(name string) string {
	for utf8.RuneCountInString(name) > tleName {
		_, size := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-size]
	}
	return name
}

// TLELosses tells in words what WriteTLE loses of the set: an entry for each
// value that a TLE rounds, by more than 1e-12 of it, cuts or leaves out. The error is that of TLE.
func (s Set) TLELosses() ([]string, error) {
	var text strings.Builder
	if err := WriteTLE(&text, []Set{s}); err != nil {
		return nil, err
	}
	back, err := Read(strings.NewReader(text.String()), "")
	if err != nil {
		return nil, fmt.Errorf("%s is not read back from its TLE: %w", s.label(), err)
	}
	return s.losses(back[0]), nil
}

func (s Set) losses(tle Set) []string {
	var all []string
	lose := func(lost bool, format string, a ...any) {
		if lost {
			all = append(all, fmt.Sprintf(format, a...))
		}
	}
	lose(s.Name != tle.Name, "the name %q is cut to %q", s.Name, tle.Name)
	lose(s.Designator != tle.Designator, "the designator %q is left out", s.Designator)
	lose(!s.Epoch.Equal(tle.Epoch), "the epoch is rounded by %v, to %s", tle.Epoch.Sub(s.Epoch), formatOMMEpoch(tle.Epoch))
	for _, v := range []struct {
		quantity
		from, to float64
	}{
		{meanMotion, s.MeanMotionRevPerDay, tle.MeanMotionRevPerDay},
		{eccentricity, s.Eccentricity, tle.Eccentricity},
		{inclination, s.InclinationDeg, tle.InclinationDeg},
		{node, turn(s.NodeDeg), tle.NodeDeg},
		{perigee, turn(s.PerigeeDeg), tle.PerigeeDeg},
		{anomaly, turn(s.AnomalyDeg), tle.AnomalyDeg},
		{drag, s.BStar, tle.BStar},
		{motionDot, s.MeanMotionDot, tle.MeanMotionDot},
		{motionDDot, s.MeanMotionDDot, tle.MeanMotionDDot},
	} {
		lose(math.Abs(v.from-v.to) > 1e-12*math.Abs(v.from), "the %s is rounded from %s to %s", v.name, number(v.from), number(v.to))
	}
	lose(s.ElementNumber != tle.ElementNumber, "the element number is cut from %d to %d", s.ElementNumber, tle.ElementNumber)
	lose(s.RevolutionNumber != tle.RevolutionNumber, "the revolution number is cut from %d to %d", s.RevolutionNumber, tle.RevolutionNumber)
	var names []string
	for name := range s.Rest.All() {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	lose(len(names) > 0, "%s %s left out", strings.Join(names, ", "), isOrAre(len(names)))
	return all
}

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

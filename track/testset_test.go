package track

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/track/elements"
)

// number reads a fixed field of a two-line set; blanks inside are dropped.
func number(t testing.TB, field string) float64 {
	t.Helper()
	field = strings.ReplaceAll(field, " ", "")
	v, err := strconv.ParseFloat(field, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// setFromLines reads two lines by their columns (T. S. Kelso, "NORAD Two-Line
// Element Set Format"), without any check: the verification set has wrong
// checksums and blank fields.
func setFromLines(t testing.TB, line1, line2 string) elements.Set {
	t.Helper()
	year := int(number(t, line1[18:20]))
	if year < 57 {
		year += 100
	}
	day := number(t, line1[20:32])
	epoch := time.Date(1900+year, 1, 1, 0, 0, 0, 0, time.UTC).
		Add(time.Duration(math.Round((day-1)*86400e6)) * time.Microsecond)
	drag := number(t, line1[53:54]+"."+strings.ReplaceAll(line1[54:59], " ", "0")) *
		math.Pow(10, number(t, line1[59:61]))
	id, _ := strconv.Atoi(strings.TrimSpace(line1[2:7]))
	return elements.Set{
		Name: strings.TrimSpace(line1[2:7]), CatalogueNumber: id, Epoch: epoch, BStar: drag,
		InclinationDeg: number(t, line2[8:16]), NodeDeg: number(t, line2[17:25]),
		Eccentricity: number(t, "."+line2[26:33]), PerigeeDeg: number(t, line2[34:42]),
		AnomalyDeg: number(t, line2[43:51]), MeanMotionRevPerDay: number(t, line2[52:63]),
	}
}

// invented reads the three invented sets, by name.
func invented(t testing.TB) map[string]elements.Set {
	t.Helper()
	lines := readLines(t, "../testdata/orbits/omm/invented_all.tle")
	sets := map[string]elements.Set{}
	for i := 0; i+2 < len(lines); i += 3 {
		set := setFromLines(t, lines[i+1], lines[i+2])
		set.Name = lines[i]
		sets[set.Name] = set
	}
	if len(sets) != 3 {
		t.Fatalf("%d invented sets, want 3", len(sets))
	}
	return sets
}

func orbit(t testing.TB, set elements.Set) *Orbit {
	t.Helper()
	o, err := NewOrbit(set)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func readLines(t testing.TB, path string) []string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []string
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := strings.TrimRight(s.Text(), " \r"); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

func when(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

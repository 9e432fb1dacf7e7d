package north

import (
	"bufio"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// columns reads the rows of numbers of a file in testdata/geomag, separated by
// blanks or commas; a column with a word gives NaN.
func columns(t *testing.T, name string, width int) (rows [][]float64, texts [][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "geomag", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if line := lines.Text(); !strings.HasPrefix(line, "#") {
			text := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == ',' })
			if len(text) != width {
				t.Fatalf("%s: %q has %d columns, want %d", name, line, len(text), width)
			}
			row := make([]float64, width)
			for i := range text {
				if row[i], err = strconv.ParseFloat(text[i], 64); err != nil {
					row[i] = math.NaN()
				}
			}
			rows, texts = append(rows, row), append(texts, text)
		}
	}
	return rows, texts
}

// instant is the time of a decimal year of which only .0 and .5 occur here.
func instant(year float64) time.Time {
	whole := math.Floor(year)
	start := time.Date(int(whole), 1, 1, 0, 0, 0, 0, time.UTC)
	length := time.Date(int(whole)+1, 1, 1, 0, 0, 0, 0, time.UTC).Sub(start)
	return start.Add(time.Duration((year - whole) * float64(length)))
}

type check struct {
	what      string
	got, want float64
	tolerance float64
}

func compare(t *testing.T, row int, checks []check) {
	t.Helper()
	for _, c := range checks {
		if !(math.Abs(c.got-c.want) <= c.tolerance) {
			t.Errorf("row %d: %s = %.6f, want %.6f ± %g", row+1, c.what, c.got, c.want, c.tolerance)
		}
	}
}

// The 100 official test values of WMM2025 (NOAA NCEI and BGS). Declination and
// inclination are printed to 0.01°, the rest to a millionth.
func TestOfficialValues(t *testing.T) {
	rows, _ := columns(t, "WMM2025_TestValues.txt", 18)
	if len(rows) != 100 {
		t.Fatalf("%d rows, want 100", len(rows))
	}
	for i, w := range rows {
		f, err := At(w[2], w[3], w[1]*1000, instant(w[0]))
		if err != nil {
			t.Errorf("row %d: %v", i+1, err)
			continue
		}
		compare(t, i, []check{
			{"D", f.DeclinationDeg, w[4], 0.00501},
			{"I", f.InclinationDeg, w[5], 0.00501},
			{"H", f.HorizontalNT, w[6], 0.002},
			{"X", f.NorthNT, w[7], 0.002},
			{"Y", f.EastNT, w[8], 0.002},
			{"Z", f.DownNT, w[9], 0.002},
			{"F", f.TotalNT, w[10], 0.002},
			{"D/year", f.DeclinationDegPerYear, w[11], 0.000002},
			{"I/year", f.InclinationDegPerYear, w[12], 0.000002},
			{"H/year", f.HorizontalNTPerYear, w[13], 0.00001},
			{"X/year", f.NorthNTPerYear, w[14], 0.00001},
			{"Y/year", f.EastNTPerYear, w[15], 0.00001},
			{"Z/year", f.DownNTPerYear, w[16], 0.00001},
			{"F/year", f.TotalNTPerYear, w[17], 0.00001},
		})
	}
}

// The 12-point table of the WMM2025 technical report, to its printed digits.
func TestReportValues(t *testing.T) {
	rows, _ := columns(t, "WMM2025_TestValues_Report.txt", 19)
	if len(rows) != 12 {
		t.Fatalf("%d rows, want 12", len(rows))
	}
	for i, w := range rows {
		f, err := At(w[2], w[3], w[1]*1000, instant(w[0]))
		if err != nil {
			t.Errorf("row %d: %v", i+1, err)
			continue
		}
		compare(t, i, []check{
			{"X", f.NorthNT, w[4], 0.0501},
			{"Y", f.EastNT, w[5], 0.0501},
			{"Z", f.DownNT, w[6], 0.0501},
			{"H", f.HorizontalNT, w[7], 0.0501},
			{"F", f.TotalNT, w[8], 0.0501},
			{"I", f.InclinationDeg, w[9], 0.00501},
			{"D", f.DeclinationDeg, w[10], 0.00501},
			{"X/year", f.NorthNTPerYear, w[12], 0.0501},
			{"Y/year", f.EastNTPerYear, w[13], 0.0501},
			{"Z/year", f.DownNTPerYear, w[14], 0.0501},
			{"H/year", f.HorizontalNTPerYear, w[15], 0.0501},
			{"F/year", f.TotalNTPerYear, w[16], 0.0501},
			{"I/year", f.InclinationDegPerYear, w[17], 0.00501},
			{"D/year", f.DeclinationDegPerYear, w[18], 0.00501},
		})
	}
}

// At a geographic pole the field is one vector, whatever longitude is given,
// and continues the field just beside the pole.
func TestGeographicPoles(t *testing.T) {
	when := instant(2026.5)
	for _, lat := range []float64{90, -90} {
		beside := lat * (1 - 1e-9)
		var first Field
		for i, lon := range []float64{0, -180, -60, 45, 90, 200, 360} {
			f, err := At(lat, lon, 0, when)
			if err != nil {
				t.Fatal(err)
			}
			g, err := At(beside, lon, 0, when)
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				first = f
			}
			// Seen from above, the meridians' north turns left with the
			// longitude at the north pole, right at the south pole.
			sin, cos := math.Sincos(lon * rad)
			if lat < 0 {
				sin = -sin
			}
			compare(t, i, []check{
				{"X beside", f.NorthNT, g.NorthNT, 0.01},
				{"Y beside", f.EastNT, g.EastNT, 0.01},
				{"Z beside", f.DownNT, g.DownNT, 0.01},
				{"X", f.NorthNT, first.NorthNT*cos - first.EastNT*sin, 1e-6},
				{"Y", f.EastNT, first.NorthNT*sin + first.EastNT*cos, 1e-6},
				{"Z", f.DownNT, first.DownNT, 1e-6},
			})
		}
	}
}

func TestOutsideTheModel(t *testing.T) {
	nan := math.NaN()
	inside := time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)
	day := func(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		name          string
		lat, lon, h   float64
		t             time.Time
		text          string
		years, within bool
	}{
		{name: "first moment", t: day(2025, 1, 1), within: true},
		{name: "last moment", t: day(2030, 1, 1), within: true},
		{name: "other zone", t: time.Date(2025, 1, 1, 0, 30, 0, 0, time.FixedZone("", 3600)), years: true, text: "not 2024-12-31"},
		{name: "before", t: day(2025, 1, 1).Add(-time.Second), years: true, text: "2025.0 to 2030.0 only, not 2024-12-31"},
		{name: "after", t: day(2030, 1, 1).Add(time.Second), years: true, text: "2025.0 to 2030.0 only, not 2030-01-01"},
		{name: "no time", years: true, text: "not 0001-01-01"},
		{name: "lowest", h: -1000, t: inside, within: true},
		{name: "highest", h: 850000, t: inside, within: true},
		{name: "too low", h: -1000.1, t: inside, text: "height -1000.1 m"},
		{name: "too high", h: 850001, t: inside, text: "-1 to 850 km"},
		{name: "no height", h: nan, t: inside, text: "height NaN m"},
		{name: "latitude", lat: 90.1, t: inside, text: "latitude 90.1° is not within -90 to 90"},
		{name: "no latitude", lat: nan, t: inside, text: "latitude NaN°"},
		{name: "longitude", lon: -180.5, t: inside, text: "longitude -180.5° is not within -180 to 360"},
		{name: "no longitude", lon: math.Inf(1), t: inside, text: "longitude +Inf°"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := At(c.lat, c.lon, c.h, c.t)
			if c.within {
				if err != nil || f.TotalNT < 20000 || f.TotalNT > 70000 {
					t.Fatalf("got %v, %v, want a field", f, err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.text) || errors.Is(err, ErrOutsideYears) != c.years {
				t.Fatalf("error %v, want %q (outside the years: %v)", err, c.text, c.years)
			}
			if f != (Field{}) {
				t.Fatalf("a field beside an error: %v", f)
			}
		})
	}
}

func BenchmarkAt(b *testing.B) {
	when := time.Date(2027, 5, 6, 7, 8, 9, 0, time.UTC)
	for b.Loop() {
		if _, err := At(57.27, -5.71, 40, when); err != nil {
			b.Fatal(err)
		}
	}
}

package beacon

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

// The real propagator in passes of an independent library (Skyfield 1.45; see
// the header lines of passes_invented.csv): a burst set to start at the pass's
// highest point is there, and all bursts between rise and set are above the
// horizon and not above that point. One at the very set (V21) is not in the pass.
func TestBurstsInReferencePasses(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "orbits")
	f, err := os.Open(filepath.Join(dir, "omm", "invented_all.tle"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sets, err := elements.Read(f, f.Name())
	if err != nil {
		t.Fatal(err)
	}
	table, err := os.Open(filepath.Join(dir, "passes_invented.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer table.Close()
	reader := csv.NewReader(table)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil || len(rows) < 50 {
		t.Fatalf("%d rows, %v, want 50 or more", len(rows), err)
	}
	for _, row := range rows[1:] { // after the column names
		set, err := elements.Choose(sets, row[1])
		if err != nil {
			t.Fatal(err)
		}
		orbit, err := track.NewOrbit(set)
		if err != nil {
			t.Fatal(err)
		}
		number := func(i int) float64 {
			x, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
		moment := func(i int) time.Time {
			m, err := time.Parse(time.RFC3339, row[i])
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		rise, top, end := moment(6), moment(8), moment(11)
		site := track.Site{LatitudeDeg: number(3), LongitudeDeg: number(4), HeightM: number(5)}
		s := Schedule{Period: 30 * time.Second, First: top}
		bursts, err := InPass(orbit, site, passFor(rise, end.Sub(rise)), s, 0)
		if err != nil {
			t.Fatalf("%s: %v", row[0], err)
		}
		if want := int(top.Sub(rise)/s.Period) + int((end.Sub(top)-1)/s.Period) + 1; len(bursts) != want {
			t.Errorf("%s: %d bursts, want %d", row[0], len(bursts), want)
		}
		highest := number(10)
		found := false
		for _, b := range bursts {
			if el := b.Look.ElevationDeg; el < -0.02 || el > highest+0.02 {
				t.Errorf("%s: burst %d at elevation %.3f°, want 0° to %.3f°", row[0], b.Number, el, highest)
			}
			if b.Number == 0 {
				found = true
				if off := track.SeparationDeg(b.Look.AzimuthDeg, b.Look.ElevationDeg, number(9), highest); !(off <= 0.05) {
					t.Errorf("%s: highest burst %.3f° from azimuth %s°, elevation %s°", row[0], off, row[9], row[10])
				}
			}
		}
		if !found {
			t.Errorf("%s: no burst at the highest point", row[0])
		}
	}
}

package beacon

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/internal/testtable"
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
	rows := testtable.Rows(t, filepath.Join(dir, "passes_invented.csv"))
	if len(rows) < 49 {
		t.Errorf("only %d passes", len(rows))
	}
	for _, row := range rows {
		set, err := elements.Choose(sets, row["set"])
		if err != nil {
			t.Fatal(err)
		}
		orbit, err := track.NewOrbit(set)
		if err != nil {
			t.Fatal(err)
		}
		number := func(column string) float64 { return testtable.Number(t, row[column]) }
		moment := func(column string) time.Time {
			m, err := time.Parse(time.RFC3339, row[column])
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		rise, top, end := moment("rise_utc"), moment("max_utc"), moment("set_utc")
		site := track.Site{LatitudeDeg: number("lat_deg"), LongitudeDeg: number("lon_deg"), HeightM: number("height_m")}
		s := Schedule{Period: 30 * time.Second, First: top}
		bursts, err := InPass(orbit, site, passFor(rise, end.Sub(rise)), s, 0)
		if err != nil {
			t.Fatalf("%s: %v", row["id"], err)
		}
		if want := int(top.Sub(rise)/s.Period) + int((end.Sub(top)-1)/s.Period) + 1; len(bursts) != want {
			t.Errorf("%s: %d bursts, want %d", row["id"], len(bursts), want)
		}
		highest := number("max_el_deg")
		found := false
		for _, b := range bursts {
			if el := b.Look.ElevationDeg; el < -0.02 || el > highest+0.02 {
				t.Errorf("%s: burst %d at elevation %.3f°, want 0° to %.3f°", row["id"], b.Number, el, highest)
			}
			if b.Number == 0 {
				found = true
				if off := track.SeparationDeg(b.Look.AzimuthDeg, b.Look.ElevationDeg, number("max_az_deg"), highest); !(off <= 0.05) {
					t.Errorf("%s: highest burst %.3f° from azimuth %s°, elevation %s°", row["id"], off, row["max_az_deg"], row["max_el_deg"])
				}
			}
		}
		if !found {
			t.Errorf("%s: no burst at the highest point", row["id"])
		}
	}
}

package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// The commands end to end against values computed outside the project: flags
// in, JSON out. Sources: the header lines of the files.

const invented = "../../testdata/orbits/omm/invented_all.tle"

// Source: testdata/orbits/look_angles_invented.csv (Skyfield, checked with
// astropy). Tolerances as for the orbit itself, and half the last decimal.
func TestLookAgainstReference(t *testing.T) {
	for _, row := range readRows(t, "../../testdata/orbits/look_angles_invented.csv")[:20] {
		var got []struct {
			CatalogueNumber int     `json:"catalogue_number"`
			AzimuthDeg      float64 `json:"azimuth_deg"`
			ElevationDeg    float64 `json:"elevation_deg"`
			RangeKm         float64 `json:"range_km"`
			RangeRateKmS    float64 `json:"range_rate_km_s"`
			ReceiveHz       float64 `json:"receive_hz"`
		}
		runJSON(t, &got, "look", row["set"], "--elements", invented, "--site", siteOf(row), "--at", row["utc"], "--frequency", "437.1M")
		if len(got) != 1 {
			t.Fatalf("%s: %d rows", row["id"], len(got))
		}
		azimuth := math.Remainder(got[0].AzimuthDeg-row.number(t, "az_deg"), 360) * math.Cos(row.number(t, "el_deg")*math.Pi/180)
		within(t, row["id"]+" azimuth, degrees on the sky", azimuth, 0, 0.02)
		within(t, row["id"]+" elevation, degrees", got[0].ElevationDeg, row.number(t, "el_deg"), 0.02)
		within(t, row["id"]+" range, km", got[0].RangeKm, row.number(t, "range_km"), 0.1)
		within(t, row["id"]+" range rate, km/s", got[0].RangeRateKmS, row.number(t, "range_rate_km_s"), 0.002)
		// The Doppler shift worked out from the reference's range rate.
		want := 437.1e6 * (1 - row.number(t, "range_rate_km_s")/299792.458)
		within(t, row["id"]+" receive frequency, Hz", got[0].ReceiveHz, want, 437.1e6*0.002/299792.458+0.1)
	}
}

// Source: testdata/orbits/passes_invented.csv (Skyfield).
func TestPassesAgainstReference(t *testing.T) {
	for _, row := range readRows(t, "../../testdata/orbits/passes_invented.csv")[:20] {
		peak := mustTime(row["max_utc"])
		var got []struct {
			Rise, Peak, Set struct {
				Time         time.Time
				AzimuthDeg   float64 `json:"azimuth_deg"`
				ElevationDeg float64 `json:"elevation_deg"`
			}
			DurationS      float64 `json:"duration_s"`
			BurstsExpected int     `json:"bursts_expected"`
		}
		// The pass is under way at both ends of the minute around its peak,
		// and is to be given whole.
		runJSON(t, &got, "passes", row["set"], "--elements", invented, "--site", siteOf(row),
			"--from", peak.Add(-30*time.Second).Format(time.RFC3339), "--for", "1m", "--period", "30s")
		if len(got) != 1 {
			t.Fatalf("%s: %d passes, want 1", row["id"], len(got))
		}
		rise, set := mustTime(row["rise_utc"]), mustTime(row["set_utc"])
		within(t, row["id"]+" rise, s", got[0].Rise.Time.Sub(rise).Seconds(), 0, 1)
		within(t, row["id"]+" set, s", got[0].Set.Time.Sub(set).Seconds(), 0, 1)
		within(t, row["id"]+" peak, s", got[0].Peak.Time.Sub(peak).Seconds(), 0, 2)
		within(t, row["id"]+" highest, degrees", got[0].Peak.ElevationDeg, row.number(t, "max_el_deg"), 0.05)
		within(t, row["id"]+" duration, s", got[0].DurationS, set.Sub(rise).Seconds(), 2)
		within(t, row["id"]+" bursts", float64(got[0].BurstsExpected), set.Sub(rise).Seconds()/30, 1.1)
	}
}

// Source: testdata/geomag/WMM2025_TestValues_Report.txt, the table of the
// model's technical report. Its points at 100 km are no sites.
func TestNorthAgainstOfficialValues(t *testing.T) {
	data, err := os.ReadFile("../../testdata/geomag/WMM2025_TestValues_Report.txt")
	if err != nil {
		t.Fatal(err)
	}
	dates := map[string]string{"2025.0": "2025-01-01T00:00:00Z", "2027.5": "2027-07-02T12:00:00Z"}
	tested := 0
	for _, line := range strings.Split(string(data), "\n") {
		f := strings.Fields(line)
		if len(f) < 19 || f[0] == "#" || f[1] != "0.0" {
			continue
		}
		tested++
		var got map[string]any
		east, err := strconv.ParseFloat(f[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		site := fmt.Sprintf("%s,%v", f[2], math.Remainder(east, 360))
		runJSON(t, &got, "north", "--site", site, "--at", dates[f[0]])
		// The table's columns, with half of their last decimal.
		for _, c := range []struct {
			field     string
			column    int
			tolerance float64
		}{
			{"north_nt", 4, 0.11}, {"east_nt", 5, 0.11}, {"down_nt", 6, 0.11}, {"horizontal_nt", 7, 0.11},
			{"total_nt", 8, 0.11}, {"inclination_deg", 9, 0.0051}, {"declination_deg", 10, 0.0051},
			{"annual_change_deg", 18, 0.0051},
		} {
			want, err := strconv.ParseFloat(f[c.column], 64)
			if err != nil {
				t.Fatal(err)
			}
			within(t, fmt.Sprintf("%s %s,%s %s", f[0], f[2], f[3], c.field), got[c.field].(float64), want, c.tolerance)
		}
	}
	if tested != 6 {
		t.Errorf("%d of the table's points were tested, want 6", tested)
	}
}

type record map[string]string

func (r record) number(t *testing.T, field string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[field], 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func siteOf(r record) string { return r["lat_deg"] + "," + r["lon_deg"] + "," + r["height_m"] }

func readRows(t *testing.T, file string) []record {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []record
	for _, line := range lines[1:] {
		row := record{}
		for i, field := range lines[0] {
			row[field] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// runJSON runs a command with --json and reads its answer.
func runJSON(t *testing.T, answer any, args ...string) {
	t.Helper()
	status, stdout, stderr := runHere(t, t.Context(), append(args, "--json")...)
	if status != statusDone {
		t.Fatalf("%v: exit status %d: %s", args, status, stderr)
	}
	if err := json.Unmarshal([]byte(stdout), answer); err != nil {
		t.Fatalf("%v: %v in %s", args, err, stdout)
	}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tolerance)
	}
}

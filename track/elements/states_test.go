package elements_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

const folder = "../../testdata/orbits/omm"

// Source: expected_states.csv (python-sgp4 2.15, WGS-72): every file of a set,
// in whatever encoding, gives the published state; the tolerance is that of
// the propagation, not of the reading.
func TestStatesFromEveryEncoding(t *testing.T) {
	goes := "GOES 9 (figure G-7)"
	for _, c := range []struct {
		set   string
		files []string
	}{
		{"INVENTED-1", []string{"invented1.csv", "invented1.json", "invented1.kvn", "invented1.tle", "invented1.xml", "invented_all.csv", "invented_all.json", "invented_all.tle"}},
		{"INVENTED-2", []string{"invented2_six_digit.json", "invented2_six_digit_strings.json", "invented2_six_digit.kvn", "invented2_six_digit.xml", "invented2_six_digit_alpha5.tle", "invented_all.csv"}},
		{"INVENTED-3", []string{"invented_all.csv", "invented_all.json", "invented_all.tle"}},
		{goes, []string{"ccsds_502_0_B_3_figure_G7.kvn", "ccsds_502_0_B_3_figure_G8_covariance.kvn", "ccsds_502_0_B_3_figure_G9_units.kvn", "ccsds_502_0_B_3_figure_G10.xml"}},
		{"catalogue 100000 (JSON)", []string{"catalog_100000.json"}},
	} {
		expected := states(t, c.set)
		var first elements.Set
		for i, file := range c.files {
			set := setOf(t, file, c.set)
			orbit, err := track.NewOrbit(set)
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range expected {
				got, err := orbit.State(set.Epoch.Add(time.Duration(row[0] * float64(time.Minute))))
				if err != nil {
					t.Fatal(err)
				}
				off := math.Hypot(math.Hypot(got.PositionKm[0]-row[1], got.PositionKm[1]-row[2]), got.PositionKm[2]-row[3])
				if !(off < 0.005) {
					t.Errorf("%s of %s after %v min is %.4f km off", c.set, file, row[0], off)
				}
			}
			if i == 0 {
				first = numbersOf(set)
			}
			if got := numbersOf(set); got != first {
				t.Errorf("%s:\n%+v, from %s\n%+v", file, got, c.files[0], first)
			}
		}
	}
}

// Source: kvn_variants, five spellings of one set, of which the source says
// that they have the same numbers; these are read by eye.
func TestSpellingsOfKVN(t *testing.T) {
	want := elements.Set{
		Designator: "1998-067A", CatalogueNumber: 25544, Epoch: time.Date(1998, 11, 20, 6, 49, 59, 999_808_000, time.UTC),
		MeanMotionRevPerDay: 16.05064833, Eccentricity: 0.0125362, InclinationDeg: 51.5908, NodeDeg: 168.3788, PerigeeDeg: 86.4185,
		AnomalyDeg: 359.7454, MeanMotionDot: -0.3657e-4, MeanMotionDDot: 0.11563e-4, ElementNumber: 1,
	}
	files, err := filepath.Glob(folder + "/kvn_variants/*.kvn")
	if err != nil || len(files) != 5 {
		t.Fatalf("%d files, error %v", len(files), err)
	}
	for _, file := range files {
		want := want
		if strings.Contains(file, "v05") {
			want.CatalogueNumber, want.ElementNumber = 0, 0
		}
		set := setOf(t, "kvn_variants/"+filepath.Base(file), "ISS (ZARYA)")
		if got := numbersOf(set); got != want {
			t.Errorf("%s:\n%+v, want\n%+v", file, got, want)
		}
	}
}

// numbersOf leaves out what differs between the files of one set: the name's
// spelling, the class, the rest.
func numbersOf(s elements.Set) elements.Set {
	s.Name, s.Classification, s.Rest, s.Format, s.File, s.Line = "", 0, "", "", "", 0
	return s
}

// setOf reads a file and returns the set of that name, or the only one.
func setOf(t *testing.T, file, name string) elements.Set {
	t.Helper()
	f, err := os.Open(filepath.Join(folder, file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sets, err := elements.Read(f, file)
	if err != nil {
		t.Fatal(err)
	}
	if len(sets) == 1 {
		return sets[0]
	}
	set, err := elements.Choose(sets, name)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// states returns minutes after the epoch and the position in km for each row.
func states(t *testing.T, set string) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(folder, "expected_states.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var found [][]float64
	for _, row := range rows {
		if row[0] != set {
			continue
		}
		numbers := make([]float64, 4)
		for i := range numbers {
			if numbers[i], err = strconv.ParseFloat(row[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		found = append(found, numbers)
	}
	if len(found) < 3 {
		t.Fatalf("%d rows of %s", len(found), set)
	}
	return found
}

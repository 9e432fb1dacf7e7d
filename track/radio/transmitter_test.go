package radio

import (
	"encoding/csv"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"foreaim/track"
	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

const (
	columns = "name,latitude_deg,longitude_deg,ground_m,mast_m,low_mhz,high_mhz,erp_dbm,polarisation\n"
	hill    = "Hill,58.5,14.0,210,180,470,478,80,h\n"
)

func TestReadTransmitters(t *testing.T) {
	got, err := ReadTransmitters(strings.NewReader(columns+hill+"# between\nLake,58,14,100,30,433.5,433.5,,\n"), "t.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := []Transmitter{
		{"Hill", 58.5, 14, 210, 180, 470, 478, Given(80), "h"},
		{"Lake", 58, 14, 100, 30, 433.5, 433.5, Figure{}, ""},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestReadTransmittersRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"name\n": `t.csv:1:1: column "latitude_deg" is missing`,
		columns + ",58.5,14.0,210,180,470,478,80,h\n":                                        "t.csv:2:1: name is empty",
		columns + "Hill,98.5,14.0,210,180,470,478,80,h\n":                                    `t.csv:2:6: latitude_deg is "98.5", want a number of degrees, -90 to 90`,
		columns + "Hill,58.5,14.0,210,180,478,470,80,h\n":                                    "t.csv:2:28: high_mhz is 470, below low_mhz, 478",
		columns + "Hill,58.5,14.0,210,180,470,478,120,h\n":                                   `t.csv:2:32: erp_dbm is "120", want a number of dBm, -50 to 110`,
		columns + "Hill,58.5,14.0,210,180,470,478,80,x\n":                                    `t.csv:2:35: polarisation is "x", want h, v, m or nothing`,
		columns + strings.Repeat("Hill,58.5,14.0,210,180,470,478,80,h\n", maxTransmitters+1): "t.csv:302:1: more than 300 transmitters",
	} {
		_, err := ReadTransmitters(strings.NewReader(text), "t.csv")
		var fault *FileError
		if !errors.As(err, &fault) || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// What is read and written again is read as the same.
func FuzzReadTransmitters(f *testing.F) {
	f.Add(columns + hill)
	f.Add("#x\n" + columns + "\"a, b\",-1e1,180,-5,0,1,1,,m\n")
	f.Add(columns + "\x1b[31m,0,0,0,0,1,2,nan,v\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := ReadTransmitters(strings.NewReader(text), "t.csv")
		if err != nil {
			if all != nil {
				t.Errorf("%v beside %v", all, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		_ = w.Write(transmitterColumns) // a Builder never fails
		for _, x := range all {
			if x.Name == "" || !(x.LowMHz <= x.HighMHz) || !testtable.Printable(x.Name) {
				t.Fatalf("%+v", x)
			}
			cells := []string{x.Name}
			for _, v := range []float64{x.LatitudeDeg, x.LongitudeDeg, x.GroundM, x.MastM, x.LowMHz, x.HighMHz, x.ERPDBm.Value} {
				cells = append(cells, strconv.FormatFloat(v, 'g', -1, 64))
			}
			if !x.ERPDBm.Known {
				cells[7] = ""
			}
			_ = w.Write(append(cells, x.Polarisation))
		}
		w.Flush()
		again, err := ReadTransmitters(strings.NewReader(b.String()), "t.csv")
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if diff := cmp.Diff(all, again); diff != "" {
			t.Error(diff)
		}
	})
}

// What ITU-R P.1546-6 has in half of all places is within what is told where
// nobody has looked: testdata/radio/p1546_land50_excerpt.csv, Lb = 139.3 − E + 20·log
// f, up to 50 km; from masts of up to a tenth of the distance, as the curves go by
// the distance along the ground. p1546_check.csv is a path that is told in full.
func TestSmoothEarthHoldsWhatIsPublished(t *testing.T) {
	within := func(what string, f, km, mastM, antennaM, publishedDB float64) (overDB float64) {
		low := smoothEarthDB(Transmitter{LowMHz: f, HighMHz: f, Polarisation: "h"}, mastM, antennaM, km)
		if !(publishedDB >= low && publishedDB <= low+clutterDB) {
			t.Errorf("%s, %v MHz, mast %v m, %v km: %.1f dB, want %.1f to %.1f", what, f, mastM, km, publishedDB, low, low+clutterDB)
		}
		return publishedDB - low
	}
	n, most := 0, 0.0
	for _, row := range reference(t, "p1546_land50_excerpt.csv") {
		f, km := number(t, row["f_mhz"]), number(t, row["d_km"])
		for column, mastM := range map[string]float64{"10m": 10, "20m": 20, "37p5m": 37.5, "75m": 75, "150m": 150, "300m": 300, "600m": 600, "1200m": 1200} {
			if km > 50 || mastM > 100*km {
				continue
			}
			n++
			most = max(most, within("P.1546", f, km, mastM, 10, 139.3-number(t, row["e_h1_"+column])+20*math.Log10(f)))
		}
	}
	if n != 120 {
		t.Errorf("%d values", n)
	}
	near(t, "the most over a smooth Earth", most, 26.1, 0.1) // the doc of clutterDB
	for _, row := range reference(t, "p1546_check.csv") {
		within("a path", number(t, row["f_mhz"]), number(t, row["d_km"]), number(t, row["h1_m"]), number(t, row["h2_m"]), number(t, row["lb_db"]))
	}
}

// What an unknown transmitter may send ends where 47 CFR 73.622(f) does: the
// strongest verified digital one of testdata/radio/tv_power_limits.csv.
func TestUnknownPower(t *testing.T) {
	most := 0.0
	for _, row := range reference(t, "tv_power_limits.csv") {
		if strings.HasPrefix(row["service"], "DTV") && strings.HasPrefix(row["check"], "verified") {
			most = max(most, number(t, row["max_erp_kw"]))
		}
	}
	near(t, "dBm", unknownERP.High, 60+decibels(most), 1e-9)
}

// A transmitter due north at 30 km, 100 kW e.r.p., both on the sea's level: by
// field_strength_check.csv 10 kW at 30 km on 600 MHz are -45.402 dBm isotropic,
// so -35.402 dBm, if nothing but free space counts.
func TestIncoming(t *testing.T) {
	spot := Spot{Site: track.Site{Name: "field", LatitudeDeg: 0, LongitudeDeg: 0}, AntennaM: 2}
	// A degree of latitude at the equator: 110.574 km (WGS-84).
	mast := Transmitter{Name: "Mast", LatitudeDeg: 30 / 110.574, GroundM: 0, MastM: 400, LowMHz: 596, HighMHz: 604, ERPDBm: Given(80), Polarisation: "h"}
	in, err := mast.From(spot, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "distance", in.DistanceKm, 30, 0.01)
	near(t, "bearing", in.BearingDeg, 0, 1e-6)
	// Up 398 m in 30 km, less half the bend of 30 km on 8500 km.
	near(t, "elevation", in.ElevationDeg, math.Atan(398.0/30000-30.0/17000)*180/math.Pi, 1e-3)
	free := func(Transmitter, Spot) (Range, string, error) {
		return Exactly(FreeSpaceDB(600, 30)), "free space", nil
	}
	bare, err := mast.From(spot, free)
	if err != nil || bare.PathWords != "free space" {
		t.Fatal(bare, err)
	}
	spans(t, "free space", bare.IsotropicDBm, -35.402, -35.402, 0.01)
	// Near the horizon a smooth Earth takes its part, never negative.
	if in.IsotropicDBm.High > -35.402+0.01 || math.Abs(in.IsotropicDBm.High-in.IsotropicDBm.Low-clutterDB) > 1e-9 || !strings.HasPrefix(in.PathWords, "in line of sight") {
		t.Errorf("%+v", in)
	}
	mast.MastM = 0
	beyond, err := mast.From(spot, nil)
	if err != nil || !strings.HasPrefix(beyond.PathWords, "beyond the horizon") || beyond.IsotropicDBm.High > in.IsotropicDBm.High-20 {
		t.Errorf("%+v, %v", beyond, err)
	}
	// Nobody knows what it sends: from 10 W to 1 MW.
	mast.ERPDBm = Figure{}
	if vague, err := mast.From(spot, free); err != nil || math.Abs(vague.IsotropicDBm.High-vague.IsotropicDBm.Low-50) > 1e-9 {
		t.Errorf("%+v, %v", vague, err)
	}
	here := mast
	here.LatitudeDeg = 0
	if _, err := here.From(spot, nil); !errors.Is(err, track.ErrSamePlace) || !strings.Contains(err.Error(), "Mast") {
		t.Errorf("on top of it: %v", err)
	}
}

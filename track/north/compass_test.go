package north

import (
	"math"
	"testing"

	"foreaim/track"
)

// The published error model and compass zones at the 100 official points:
// WMM2025_DeclinationUncertainty.csv, whose header names its sources. The table
// is printed to 0.0001°.
func TestUncertaintyAndZone(t *testing.T) {
	rows, texts := columns(t, "WMM2025_DeclinationUncertainty.csv", 8)
	rows, texts = rows[1:], texts[1:] // the column names
	if len(rows) != 100 {
		t.Fatalf("%d rows, want 100", len(rows))
	}
	zones := map[string]Zone{"ok": Normal, "caution": Caution, "blackout": Blackout}
	seen := map[Zone]int{}
	for i, w := range rows {
		f, err := At(w[2], w[3], w[1]*1000, instant(w[0]))
		if err != nil {
			t.Fatal(err)
		}
		compare(t, i, []check{{"uncertainty", f.DeclinationUncertaintyDeg, w[6], 0.000051}})
		if want, ok := zones[texts[i][7]]; !ok || f.Zone != want {
			t.Errorf("row %d: zone %v, want %s", i+1, f.Zone, texts[i][7])
		}
		seen[f.Zone]++
	}
	if seen[Normal] != 91 || seen[Caution] != 7 || seen[Blackout] != 2 {
		t.Errorf("zones %v, want 91 normal, 7 caution, 2 blackout", seen)
	}
}

// 2000 and 6000 nT are the limits that the publishers give; words as shown.
func TestZoneLimits(t *testing.T) {
	for _, c := range []struct {
		nT   float64
		want string
	}{
		{0, "blackout"}, {1999.9, "blackout"}, {2000, "caution"}, {5999.9, "caution"}, {6000, "normal"}, {40000, "normal"},
	} {
		if got := zoneOf(c.nT).String(); got != c.want {
			t.Errorf("%g nT: %s, want %s", c.nT, got, c.want)
		}
	}
	if got := Zone(9).String(); got != "Zone(9)" {
		t.Errorf("no zone is called %q", got)
	}
}

// A field that points straight down has no declination, and no NaN.
func TestMagneticPole(t *testing.T) {
	f := newField([3]float64{0, 0, 55000}, [3]float64{3, 4, -20})
	want := Field{
		DownNT: 55000, TotalNT: 55000, InclinationDeg: 90,
		NorthNTPerYear: 3, EastNTPerYear: 4, DownNTPerYear: -20, TotalNTPerYear: -20,
		DeclinationUncertaintyDeg: 180, Zone: Blackout,
	}
	if f != want {
		t.Errorf("got  %+v\nwant %+v", f, want)
	}
	if f := newField([3]float64{}, [3]float64{}); f.TotalNTPerYear != 0 || f.DeclinationUncertaintyDeg != 180 {
		t.Errorf("no field at all gives %+v", f)
	}
}

// True azimuth = magnetic azimuth + declination, declination east positive: the
// rule of the WMM2025 documents.
func TestMagneticAndTrue(t *testing.T) {
	for _, c := range []struct{ trueDeg, declination, magnetic float64 }{
		{90, 12, 78}, {5, 12, 353}, {355, -12, 7}, {0, 0, 0}, {360, 0, 0}, {12, 12, 0}, {180, -180, 0},
	} {
		if got := MagneticDeg(c.trueDeg, c.declination); got != c.magnetic {
			t.Errorf("MagneticDeg(%g, %g) = %g, want %g", c.trueDeg, c.declination, got, c.magnetic)
		}
		if got := TrueDeg(c.magnetic, c.declination); got != track.Wrap360(c.trueDeg) {
			t.Errorf("TrueDeg(%g, %g) = %g, want %g", c.magnetic, c.declination, got, track.Wrap360(c.trueDeg))
		}
	}
	if got := TrueDeg(-1e-20, 0); got < 0 || got >= 360 || math.IsNaN(got) {
		t.Errorf("TrueDeg(-1e-20, 0) = %g, want within [0, 360)", got)
	}
}

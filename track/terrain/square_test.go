package terrain

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestSquareNames(t *testing.T) {
	for name, want := range map[string]string{
		"N58E014.hgt": "N58E014", "n58e014.HGT.zip": "N58E014", "s04_w062_1arc_v3.tif": "S04W062", "DEM_10_N58_00_E014_00_DEM.tif": "N58E014",
		"S90W180.zip": "S90W180", "N58E014.SRTMGL1.hgt.zip": "N58E014", "N58E180.hgt": "", "N90E000.hgt": "", "N58E014.png": "", "N58E0145.hgt": "",
		"PLAN58E014.hgt": "", "readme.hgt": "", "N8E014.hgt": "",
	} {
		s, ok := squareOf(name)
		if ok != (want != "") || ok && s.String() != want {
			t.Errorf("%s: %v, %v, want %s", name, s, ok, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-1000, 1000).Draw(t, "lon")
		s := squareAt(lat, lon)
		if got, ok := squareOf(s.String() + ".hgt"); !ok || got != s {
			t.Errorf("%v %v: %v, %v", lat, lon, got, s)
		}
		if away := math.Remainder(lon-float64(s.west)-0.5, 360); math.Abs(away) > 0.5+1e-9 {
			t.Errorf("%v is in %v", lon, s)
		}
	})
}

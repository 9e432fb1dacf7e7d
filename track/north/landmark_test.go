package north

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"foreaim/track"
)

// Elevation and range: PROJ 9.1.1, checked with astropy 5.2.1 (header of the
// file); the rows on the ground and up to 12 km. The file's azimuths are of the
// straight line, which differs from the geodesic's by what a target's height
// twists it: under 0.01° here.
func TestSightingAgainstReference(t *testing.T) {
	f, err := os.Open("../../testdata/geodesy/look_angles.csv")
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
	checked := 0
	for _, row := range rows[1:] {
		var v [10]float64 // lat, lon, height twice, then east, north, up, azimuth
		for i := range v {
			v[i], _ = strconv.ParseFloat(row[i+1], 64)
		}
		elevation, err := strconv.ParseFloat(row[11], 64)
		if err != nil {
			t.Fatal(err)
		}
		if v[2] > 10000 || v[5] > 9999 || row[10] == "" {
			continue
		}
		mark := Landmark{Name: row[0], LatitudeDeg: v[3], LongitudeDeg: v[4], HeightM: v[5], HeightKnown: true}
		s, err := mark.From(track.Site{LatitudeDeg: v[0], LongitudeDeg: v[1], HeightM: v[2]})
		if err != nil {
			t.Fatal(err)
		}
		if !s.ElevationKnown || math.Abs(s.ElevationDeg-elevation) > 1e-6 || math.Abs(track.TurnDeg(s.BearingDeg, v[9])) > 0.01 {
			t.Errorf("%s: %+v, want %v° up at %v°", row[0], s, elevation, v[9])
		}
		checked++
	}
	if checked < 4 {
		t.Errorf("only %d rows checked", checked)
	}
}

func TestLandmarkUnknownHeight(t *testing.T) {
	l := Landmark{Name: "mast", LatitudeDeg: 58.4, LongitudeDeg: 14.1, HeightM: 9999}
	s, err := l.From(meadow())
	if err != nil || s.ElevationKnown || s.ElevationDeg != 0 {
		t.Errorf("%+v, %v: want no elevation", s, err)
	}
}

func TestLandmarkRefuses(t *testing.T) {
	here := Landmark{Name: "here\x1b[31m", LatitudeDeg: meadow().LatitudeDeg, LongitudeDeg: meadow().LongitudeDeg}
	_, err := here.From(meadow())
	if !errors.Is(err, track.ErrSamePlace) || strings.ContainsRune(err.Error(), 0x1b) {
		t.Errorf("landmark at the site: %v", err)
	}
	for _, l := range []Landmark{
		{LatitudeDeg: math.NaN()}, {LongitudeDeg: 200}, {HeightM: math.NaN(), HeightKnown: true}, {HeightM: 1e6, HeightKnown: true},
	} {
		if _, err := l.From(meadow()); err == nil {
			t.Errorf("%+v: no error", l)
		}
	}
}

// 5 m to the side is atan(5/100) = 2.86° at 100 m (arithmetic).
func TestBearingSigma(t *testing.T) {
	s := Sighting{DistanceM: 100}
	if got := s.BearingSigmaDeg(3, 4); math.Abs(got-2.862) > 0.001 {
		t.Errorf("%v°, want 2.862", got)
	}
	if got := (Sighting{}).BearingSigmaDeg(3, 4); got < 89 {
		t.Errorf("at no distance %v°", got)
	}
}

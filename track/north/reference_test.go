package north

import (
	"errors"
	"math"
	"strings"
	"testing"

	"foreaim/track"
	"pgregory.net/rapid"
)

// Worked by hand.
func TestRefer(t *testing.T) {
	for name, c := range map[string]struct {
		kind                  Kind
		azimuth, right, given float64
		facing, sigma         float64
	}{
		"straight ahead":       {BySun, 212, 0, 2, 212, 2},
		"two fists right":      {ByLandmark, 10, 20, 1.5, 350, 2.5},                // 0.1·20 = 2
		"left across north":    {ByLandmark, 350, -20, 1.5, 10, 2.5},               //
		"a quarter turn right": {BySun, 90, 90, 1, 0, math.Sqrt(5)},                // 2 for the quarter
		"behind":               {BySun, 90, 180, 1, 270, math.Sqrt(5)},             //
		"usual uncertainty":    {ByPoleStar, 1, 0, 0, 1, ByPoleStar.SigmaDeg()},    //
		"beyond a quarter":     {BySun, 0, 120, 0.001, 240, math.Hypot(2, 0.1*30)}, //
	} {
		r, err := Refer(c.kind, "x", c.azimuth, c.right, c.given, noon())
		if err != nil || math.Abs(track.TurnDeg(r.FacingDeg, c.facing)) > 1e-9 || math.Abs(r.SigmaDeg-c.sigma) > 1e-3 {
			t.Errorf("%s: %+v, %v; want %v° ±%v°", name, r, err, c.facing, c.sigma)
		}
	}
}

// A compass in a field with 5° of declination, by the numbers of its kind.
func TestCompassReference(t *testing.T) {
	field := Field{HorizontalNT: 16000, DeclinationDeg: 5, DeclinationUncertaintyDeg: 0.4}
	r, err := CompassReference(ByCompass, "", 358, 0, field, 0, noon())
	if err != nil || math.Abs(r.FacingDeg-3) > 1e-9 || math.Abs(r.SigmaDeg-math.Hypot(5, 0.4)) > 1e-9 || math.Abs(r.SharedDeg-math.Hypot(4, 0.4)) > 1e-9 {
		t.Errorf("%+v, %v", r, err)
	}
	field.Zone = Caution
	if r, err := CompassReference(ByCompass, "", 358, 0, field, 0, noon()); err != nil || r.SigmaDeg < 10 {
		t.Errorf("caution zone: %+v, %v", r, err)
	}
	field.Zone = Blackout
	if _, err := CompassReference(BySensor, "", 358, 0, field, 1, noon()); !errors.Is(err, ErrBlackout) || !errors.Is(err, ErrReference) {
		t.Errorf("blackout zone: %v", err)
	}
}

// The magnetic pole of WMM2025 for 2027 lies near 85.8° N 139° E (published
// forecast, from memory): there the field of the model refuses a compass, at
// the site of the examples it doesn't.
func TestCompassReferenceByModel(t *testing.T) {
	for _, c := range []struct {
		site track.Site
		want error
	}{{track.Site{LatitudeDeg: 85.8, LongitudeDeg: 139}, ErrBlackout}, {meadow(), nil}} {
		field, err := At(c.site.LatitudeDeg, c.site.LongitudeDeg, 0, noon())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := CompassReference(ByCompass, "", 0, 0, field, 0, noon()); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, want %v", c.site, err, c.want)
		}
	}
}

func TestReferencesOfOtherKinds(t *testing.T) {
	s := Sighting{BearingDeg: 100, DistanceM: 1000}
	mark, err := LandmarkReference("church", s, 10, 5, 10, noon())
	// atan(√125/1000) = 0.641°; a fist to the right 1°; pointing 1.5°.
	if want := math.Sqrt(0.641*0.641 + 1 + 1.5*1.5); err != nil || mark.FacingDeg != 90 || math.Abs(mark.SigmaDeg-want) > 0.001 {
		t.Errorf("%+v, %v; want ±%v°", mark, err, want)
	}
	tx, err := TransmitterReference("relay", s, Middle{Deg: 350, SigmaDeg: 4}, 10, noon())
	if err != nil || math.Abs(tx.FacingDeg-110) > 1e-9 || math.Abs(tx.SigmaDeg-math.Hypot(4, 0.573)) > 0.001 {
		t.Errorf("%+v, %v", tx, err)
	}
	walk, err := WalkReference(Walk{BearingDeg: 40, SigmaDeg: 2, Enough: true}, 180, noon())
	if err != nil || walk.FacingDeg != 220 || math.Abs(walk.SigmaDeg-math.Sqrt(12)) > 1e-9 {
		t.Errorf("%+v, %v", walk, err)
	}
}

func TestReferencesRefuse(t *testing.T) {
	nan := math.NaN()
	refer := func(kind Kind, azimuth, right, sigma float64) error {
		_, err := Refer(kind, "a\x1bb", azimuth, right, sigma, noon())
		return err
	}
	_, near := LandmarkReference("well\n", Sighting{DistanceM: 20}, 0, 5, 0, noon())
	_, none := LandmarkReference("", Sighting{}, 0, 5, 0, noon())
	_, walk := WalkReference(Walk{SigmaDeg: unknownDeg, FurtherM: 40}, 0, noon())
	compass := func(field Field, sigma float64) error {
		_, err := CompassReference(ByCompass, "", 10, 0, field, sigma, noon())
		return err
	}
	_, middle := TransmitterReference("", Sighting{}, Middle{Deg: nan, SigmaDeg: 1}, 0, noon())
	for _, c := range []struct {
		err  error
		want string
	}{
		{refer(BySun, nan, 0, 1), "azimuth NaN°"},
		{refer(BySun, 0, math.Inf(1), 1), "+Inf° right of straight ahead"},
		{refer(BySun, 0, 0, -1), "uncertainty -1°"},
		{refer(BySun, 0, 0, nan), "uncertainty NaN°"},
		{refer(Kind(77), 0, 0, 1), "Kind(77) is no way"},
		{compass(usual, -1), "compass: uncertainty -1°, want over 0"},
		{compass(usual, nan), "compass: uncertainty NaN°"},
		{compass(Field{}, 0), "no magnetic field is known here"},
		{compass(Field{HorizontalNT: nan}, 0), "no magnetic field is known here"},
		{near, "well is only 20 m away"},
		{none, "the landmark is only 0 m away"},
		{walk, "walk 40 m further first"},
		{middle, "its signal at NaN°"},
	} {
		if !errors.Is(c.err, ErrReference) || !strings.Contains(c.err.Error(), c.want) || strings.ContainsAny(c.err.Error(), "\x1b\n") {
			t.Errorf("%v, want %q", c.err, c.want)
		}
	}
}

// What stands to the right stands at facing + right; the layout's error is
// at most a tenth of half a right angle, and 2°.
func TestReferProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		azimuth := rapid.Float64Range(0, 360).Draw(t, "azimuth")
		right := rapid.Float64Range(-180, 180).Draw(t, "right")
		r, err := Refer(BySun, "", azimuth, right, 3, noon())
		if err != nil || math.Abs(track.TurnDeg(r.FacingDeg+right, azimuth)) > 1e-9 || r.SigmaDeg < 3 || r.SigmaDeg > math.Sqrt(9+4.5*4.5+4)+1e-9 {
			t.Fatalf("%+v, %v", r, err)
		}
	})
}

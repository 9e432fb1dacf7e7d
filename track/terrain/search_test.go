package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"
)

// A ridge of 350 m along the meridian of the meadow, its feet 3 km to either side; a
// mast of 60 m at 490 MHz stands 8 km to the west.
var (
	ridge = landscape.Sum(landscape.Level(100), landscape.Ridge(meadow.LatitudeDeg, meadow.LongitudeDeg, 0, 350, 3000, 8000))
	mast  = Emitter{Name: "Invented mast", Place: moved(meadow, 270, 8), MastM: 60, FrequencyMHz: 490}
)

// levelOf is 100 W ERP received with a gain of 0 dBi, over free space (ITU-R
// P.525: 32.4 + 20 log f + 20 log d) and the ground's loss.
func levelOf(_ int, distanceKm, _, lossDB float64) float64 {
	return 50 + 2.15 - (32.4 + 20*math.Log10(490) + 20*math.Log10(distanceKm)) - lossDB
}

func search(g Ground) Search {
	return Search{Ground: g, Emitters: []Emitter{mast}, LevelDBm: levelOf, FloorDBm: -115, View: View{Azimuths: 72, ReachKm: 20}}
}

// In the lee the mast is gone, on its own side it is loud.
func TestSearchFindsTheLee(t *testing.T) {
	var candidates []Candidate
	for km := -6; km <= 10; km++ {
		candidates = append(candidates, Candidate{Name: fmt.Sprint(km), Place: moved(meadow, 90, float64(km)), AntennaM: 1.5})
	}
	s := search(ridge)
	s.Full = 5
	var steps []int
	s.Progress = func(done, total int) {
		if total != len(candidates)+5 {
			t.Errorf("of %d", total)
		}
		steps = append(steps, done)
	}
	found, err := s.Run(context.Background(), candidates)
	if err != nil || len(found) != len(candidates) || len(steps) != len(candidates)+5 || steps[len(steps)-1] != len(steps) {
		t.Fatal(len(found), steps, err)
	}
	at := map[string]Standing{}
	for i, f := range found {
		at[f.Name] = f
		if (f.Panorama != nil) != (i < 5) {
			t.Errorf("%d: full skyline: %v", i, f.Panorama != nil)
		}
		if i > 0 && i != 5 && found[i].WorthDB > found[i-1].WorthDB {
			t.Errorf("%s before %s", found[i-1].Name, f.Name)
		}
	}
	var best float64
	if _, err := fmt.Sscan(found[0].Name, &best); err != nil || best < 1 {
		t.Errorf("the best is %s km east of the ridge", found[0].Name)
	}
	front, lee := at["-5"], at["3"]
	f, l := front.Emitters[0], lee.Emitters[0]
	if !f.LineOfSight || f.FresnelShare < 0 || l.LineOfSight || l.FresnelShare > -5 {
		t.Errorf("front %+v, lee %+v", f, l)
	}
	// 11 km away, a ridge of 350 m is a single edge 8 and 3 km away: v = 24, at
	// least J(v) = 40 dB (P.526-15, 4.1) and the terms that delta-Bullington adds.
	if f.LevelDBm < -60 || l.LevelDBm > -90 || l.LossDB < 40 || l.LossDB > 65 {
		t.Errorf("front %.1f dBm, lee %.1f dBm with a loss of %.1f dB", f.LevelDBm, l.LevelDBm, l.LossDB)
	}
	near(t, "level", l.LevelDBm, levelOf(0, l.DistanceKm, 0, l.LossDB), 1e-9)
	near(t, "total", lee.TotalDBm, l.LevelDBm, 1e-9)
	near(t, "distance", l.DistanceKm, 11, 0.06)
	near(t, "bearing", l.BearingDeg, 270, 0.3)
	p, err := NewProfile(ridge, lee.Place, mast.Place, 0)
	if err != nil {
		t.Fatal(err)
	}
	want, err := p.Pass(Link{FrequencyMHz: 490, FromM: 1.5, ToM: 60})
	if err != nil || want != l.Passage {
		t.Errorf("%+v, %v, want %+v", l.Passage, err, want)
	}
	// The ridge is seen in the west, 350 m over 3 km.
	near(t, "ground", lee.GroundM, 100, 4)
	if lee.SkyShare >= 1 || lee.SkyShare < 0.9 {
		t.Errorf("share of the sky %v", lee.SkyShare)
	}
}

func TestSearchCounts(t *testing.T) {
	s := search(landscape.Level(0))
	s.Emitters = append(s.Emitters, mast)
	s.SkyShare = func(_ Place, _ Skyline) float64 { return 0.5 }
	s.FloorDBm = -50
	s.LevelDBm = func(int, float64, float64, float64) float64 { return -53.0103 }
	found, err := s.Run(context.Background(), []Candidate{{"a", meadow, 2}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "both together", found[0].TotalDBm, -50, 1e-3)
	near(t, "half of the sky and a noise twice as high", found[0].WorthDB, -6.02, 0.01)
	s.Emitters = nil
	found, err = s.Run(context.Background(), []Candidate{{"a", meadow, 2}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "no emitter", found[0].WorthDB, -3.01, 0.01)
	if !math.IsInf(found[0].TotalDBm, -1) {
		t.Error(found[0].TotalDBm)
	}
}

func TestSearchGoesOnWithoutKnownGround(t *testing.T) {
	s := search(voidFrom{ridge, meadow.LongitudeDeg + 0.2})
	candidates := []Candidate{{"not known", moved(meadow, 90, 15), 2}, {"at the mast", mast.Place, 2}, {"good", moved(meadow, 90, 3), 2}}
	found, err := s.Run(context.Background(), candidates)
	if err != nil || len(found) != 3 || found[0].Name != "good" || found[0].Panorama == nil {
		t.Fatal(found, err)
	}
	for _, f := range found[1:] {
		if f.Unknown == nil || f.Panorama != nil {
			t.Errorf("%+v", f)
		}
	}
	// A missing tile ends it.
	s.Ground = NewTiles(fstest.MapFS{}, TilesOptions{})
	found, err = s.Run(context.Background(), candidates)
	if !errors.As(err, new(*MissingError)) {
		t.Error(err)
	}
	for _, f := range found { // the one at the mast may have been first
		if f.Unknown == nil {
			t.Errorf("%+v", f)
		}
	}
}

// What was found until it was stopped is kept.
func TestSearchStops(t *testing.T) {
	candidates, err := CandidatesAround(meadow, 3, 500, 2)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	s := search(ridge)
	s.Progress = func(done, _ int) {
		if done == 20 {
			cancel()
		}
	}
	found, err := s.Run(ctx, candidates)
	if !errors.Is(err, context.Canceled) || len(found) < 20 || len(found) == len(candidates) {
		t.Error(len(found), err)
	}
	for _, f := range found {
		if f.Name == "" || len(f.Emitters) != 1 {
			t.Errorf("%+v", f)
		}
	}
}

func TestSearchRefuses(t *testing.T) {
	for name, change := range map[string]func(*Search, *Candidate){
		"no levels": func(s *Search, _ *Candidate) { s.LevelDBm = nil },
		"frequency": func(s *Search, _ *Candidate) { s.Emitters[0].FrequencyMHz = 0 },
		"mast":      func(s *Search, _ *Candidate) { s.Emitters[0].MastM = -1 },
		"emitter":   func(s *Search, _ *Candidate) { s.Emitters[0].LatitudeDeg = 91 },
		"place":     func(_ *Search, c *Candidate) { c.LongitudeDeg = math.NaN() },
		"antenna":   func(_ *Search, c *Candidate) { c.AntennaM = -1 },
		"view":      func(s *Search, _ *Candidate) { s.View.ReachKm = 1e9 },
	} {
		s, c := search(ridge), Candidate{"a", meadow, 2}
		change(&s, &c)
		if _, err := s.Run(context.Background(), []Candidate{c}); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func TestCandidatesAround(t *testing.T) {
	all, err := CandidatesAround(Place{58, 179.99}, 2, 1000, 3)
	if err != nil || len(all) != 13 { // points of a grid in a circle of radius 2: Gauss
		t.Fatal(all, err)
	}
	if all[0].Name != "2 km N" || all[6].Name != "centre" || all[1].Name != "1 km N, 1 km W" || all[8].Name != "2 km E" {
		t.Errorf("%+v", all)
	}
	for _, c := range all {
		p, err := NewProfile(landscape.Level(0), Place{58, 179.99}, c.Place, 1000)
		if c.Name != "centre" && (err != nil || p.LengthKm() > 2.02 || p.LengthKm() < 0.99) {
			t.Errorf("%s is %v km away, %v", c.Name, p.LengthKm(), err)
		}
	}
	for _, c := range [][2]float64{{0, 100}, {-1, 100}, {math.NaN(), 1}, {1, 0}, {100, 10}, {201, 1000}} {
		if _, err := CandidatesAround(meadow, c[0], c[1], 2); err == nil {
			t.Errorf("%v is taken", c)
		}
	}
}

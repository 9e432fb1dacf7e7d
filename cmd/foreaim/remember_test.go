package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"foreaim/track"
	"foreaim/track/north"

	"github.com/google/go-cmp/cmp"
)

// here is a system with a folder for data that isn't there yet.
func here(t testing.TB) system {
	return testSystem(system{stderr: &strings.Builder{}, dataFolder: filepath.Join(t.TempDir(), "not", "there")})
}

func warnings(sys system) string { return sys.stderr.(*strings.Builder).String() }

func TestRememberedPlaces(t *testing.T) {
	sys := here(t)
	c := config{landmarks: []north.Landmark{{Name: "Askrona church", LatitudeDeg: 58.33, LongitudeDeg: 14.12}}}
	remember := sys.remember(c)
	for _, each := range []struct {
		name  string
		place track.Site
		error string
	}{
		{"gate", track.Site{LatitudeDeg: 58.31270004, LongitudeDeg: 14.08639996, HeightM: 131.04}, ""},
		{" old\x1b[2J  oak\n", track.Site{LatitudeDeg: -1, LongitudeDeg: 180}, ""},
		{"GATE", track.Site{LatitudeDeg: 58.5, LongitudeDeg: 14}, ""}, // put right
		{"askrona CHURCH", track.Site{}, "Askrona church is a landmark of your configuration: take another name"},
		{" \t", track.Site{}, "the name of the place: it is empty"},
		{"far", track.Site{LatitudeDeg: 91}, "latitude 91 is outside -90 to 90"},
		{"nowhere", track.Site{LongitudeDeg: math.NaN()}, "longitude NaN is outside -180 to 180"},
	} {
		err := remember(each.name, each.place)
		if text := ""; err != nil {
			text = err.Error()
			if text != each.error {
				t.Errorf("%q: %q, want %q", each.name, text, each.error)
			}
		} else if each.error != "" {
			t.Errorf("%q is remembered, want %q", each.name, each.error)
		}
	}
	want := append(c.landmarks,
		north.Landmark{Name: "GATE", LatitudeDeg: 58.5, LongitudeDeg: 14},
		north.Landmark{Name: "old[2J oak", LatitudeDeg: -1, LongitudeDeg: 180},
	)
	if diff := cmp.Diff(want, sys.landmarks(c)); diff != "" || warnings(sys) != "" {
		t.Errorf("want -, got +\n%s%s", diff, warnings(sys))
	}
	// A name that the configuration has taken since is the configuration's.
	c.landmarks = append(c.landmarks, north.Landmark{Name: "gate", LatitudeDeg: 1})
	if got := sys.landmarks(c); len(got) != 3 || got[1].LatitudeDeg != 1 {
		t.Errorf("%+v", got)
	}
}

// A file that can't be read is left as it is, and the configuration's landmarks
// are used.
func TestRememberedPlacesDamaged(t *testing.T) {
	sys := here(t)
	path := sys.remembered().path()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	const damaged = "[[landmark]]\nname = 'gate'\nlatitude_deg = 95\nlongitude_deg = 14\n"
	if err := os.WriteFile(path, []byte(damaged), 0o644); err != nil {
		t.Fatal(err)
	}
	c := config{landmarks: []north.Landmark{{Name: "church"}}}
	if got := sys.landmarks(c); len(got) != 1 || got[0].Name != "church" {
		t.Errorf("%+v", got)
	}
	const says = "landmarks.toml:3:1: landmark[1].latitude_deg: 95 is not within -90 to 90"
	if told := warnings(sys); !strings.Contains(told, says) || strings.Count(told, "\n") != 1 {
		t.Errorf("warned %q", told)
	}
	err := sys.remember(c)("oak", track.Site{LatitudeDeg: 1})
	if err == nil || !strings.HasSuffix(err.Error(), says) {
		t.Errorf("remembered over a damaged file: %v", err)
	}
	if data, err := os.ReadFile(path); err != nil || string(data) != damaged {
		t.Errorf("the file is now %q, %v", data, err)
	}
}

// Two programs that remember at once lose nothing.
func TestRememberedAtOnce(t *testing.T) {
	sys := here(t)
	var all sync.WaitGroup
	for _, name := range strings.Fields("a b c d e f g h") {
		all.Go(func() {
			if err := sys.remember(config{})(name, track.Site{HeightM: 5}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if got := sys.landmarks(config{}); len(got) != 8 {
		t.Errorf("%d remembered of 8: %+v", len(got), got)
	}
}

// What is remembered is found again, whatever its name and place, and nothing
// else is lost by it.
func FuzzRemember(f *testing.F) {
	f.Add("gate", 58.3127, 14.0864, 131.0)
	f.Add("'\"\"\"\\ [[landmark]]\u2028\xff", -90.0, 180.0, -0.04)
	f.Add("\u00a0", 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, name string, latitude, longitude, height float64) {
		place := track.Site{LatitudeDeg: latitude, LongitudeDeg: longitude, HeightM: height}
		l, err := newLandmark(name, place)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\x1b") {
				t.Errorf("%q: %q", name, err)
			}
			return
		}
		if math.Abs(l.LatitudeDeg-latitude) > 1e-7 || math.Abs(l.LongitudeDeg-longitude) > 1e-7 ||
			math.Abs(l.HeightM-height) > 0.051 || l.HeightKnown != (height != 0) {
			t.Errorf("%+v became %+v", place, l)
		}
		places := withPlace([]north.Landmark{{Name: "first", LatitudeDeg: 1, LongitudeDeg: 2}}, l)
		if want := 2; sameName(l.Name, "first") != (len(places) != want) {
			t.Errorf("%q makes %d places", l.Name, len(places))
		}
		text, err := writePlaces(places)
		if err != nil {
			t.Fatal(err)
		}
		got, err := readPlaces("f", text)
		if diff := cmp.Diff(places, got); diff != "" || err != nil {
			t.Errorf("written %s\nread %v, want -, got +\n%s", text, err, diff)
		}
	})
}

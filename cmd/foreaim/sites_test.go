package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"foreaim/track/terrain/landscape"
)

// highRidge is an invented ridge of 800 m from north to south, with a small
// transmitter 3 km to the west of its crest.
var highRidge = landscape.Sum(landscape.Level(100), landscape.Ridge(58.5, 14.5, 0, 800, 1500, 8000))

// eastOfRidge is a longitude by how far it is from the crest; a degree of longitude
// at 58.5° is 58.34 km long (WGS-84).
func eastOfRidge(km float64) float64 { return 14.5 + km/58.34 }

const (
	smallMastMHz = 482
	smallMastM   = 30
)

// byTheRidge writes what is known about the ridge into a folder, and returns the
// flags that name it. The mast sends with a power in dBm ERP.
func byTheRidge(t *testing.T, erpDBm int) []string {
	t.Helper()
	folder := t.TempDir()
	if err := writeTiles(filepath.Join(folder, "tiles"), highRidge, [2]int{58, 14}); err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) string {
		file := filepath.Join(folder, name)
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return file
	}
	write("masts.csv", fmt.Sprintf(`name,latitude_deg,longitude_deg,ground_m,mast_m,low_mhz,high_mhz,erp_dbm,polarisation
Small mast,58.5,%.6f,100,%d,478,486,%d,h
`, eastOfRidge(-3), smallMastM, erpDBm))
	write("sites.csv", fmt.Sprintf("name,latitude_deg,longitude_deg,antenna_m\nFront,58.5,%.6f,1.5\nLee,58.5,%.6f,1.5\n", eastOfRidge(-2.6), eastOfRidge(3)))
	config := write("config.toml", `terrain = "tiles"
terrain_sea = true
transmitters = "masts.csv"
environment = "rural"
[antenna]
beamwidth_deg = 50
[[satellite]]
name = "EMBERLING"
catalogue_number = 99071
frequency_hz = 436.2e6
period = "30s"
power_dbm = 30
mode = "GMSK 4800"
[[chain]]
name = "hot"
[[chain.stage]]
name = "preamplifier"
gain_db = 30
noise_figure_db = 0.8
input_p1db_dbm = -40
input_ip3_dbm = -30
[[chain.stage]]
name = "receiver"
noise_figure_db = 6
full_scale_dbm = 0
`)
	return []string{"--config", config, "--elements", "../../testdata/outing/emberling.tle"}
}

// askSites runs sites and reads its JSON.
func askSites(t *testing.T, args ...string) []studyJSON {
	t.Helper()
	status, out, errs := runHere(t, context.Background(), append(args, "--json")...)
	var all []studyJSON
	if err := json.Unmarshal([]byte(out), &all); status != statusDone || err != nil || errs != "" {
		t.Fatal(status, err, errs, out)
	}
	return all
}

// A transmitter saturates the chain in front of a ridge, and behind it is below the
// noise. The levels by hand: 32.4 + 20·log f + 20·log d in free space (ITU-R
// P.525-4), and the crest as one edge, seen from both sides: J(ν) of P.526-15, 4.1,
// with the term for what is more than an edge, (1 − e^(−J/6))·(10 + 0.02·d), 4.5.1.
// The smooth Earth of 6 km adds next to nothing.
func TestSitesBehindTheRidge(t *testing.T) {
	const erpDBm = 46
	flags := byTheRidge(t, erpDBm)
	sites := filepath.Join(filepath.Dir(flags[1]), "sites.csv")
	found := askSites(t, append([]string{"sites", sites}, flags...)...)
	if len(found) != 2 || found[0].Name != "Lee" || found[1].Name != "Front" {
		t.Fatalf("%+v", found)
	}
	const eirpDBm = erpDBm + 2.15
	free := func(km float64) float64 { return 32.4 + 20*math.Log10(smallMastMHz) + 20*math.Log10(km) }
	const d1, d2, lambda = 3.0, 3.0, 299.792458 / smallMastMHz
	above := 800 - (smallMastM+1.5)/2 + 500*d1*d2/8500 // the crest over the line, m
	v := above * math.Sqrt(2/lambda*(1/(d1*1000)+1/(d2*1000)))
	edge := 6.9 + 20*math.Log10(math.Sqrt((v-0.1)*(v-0.1)+1)+v-0.1)
	ground := edge + (1-math.Exp(-edge/6))*(10+0.02*(d1+d2))
	for i, want := range []struct {
		lossDB float64
		effect string
		within float64
	}{
		{free(d1+d2) + ground, "harmless", 1.5}, // the samples of the tiles cut the crest off
		{free(0.4), "overloads the chain by itself", 0.3},
	} {
		in := found[i].Interference[0]
		if off := *in.PathLossDB - want.lossDB; math.Abs(off) > want.within || in.Effect != want.effect {
			t.Errorf("%s: %.1f dB and %s, want %.1f dB and %s", found[i].Name, *in.PathLossDB, in.Effect, want.lossDB, want.effect)
		}
	}
	// In the 8 MHz of the transmitter: kT0B and the noise figure, without the noise
	// of the sky.
	noiseDBm := -174 + 10*math.Log10(8e6) + 0.8
	lee, front := found[0], found[1]
	if level := eirpDBm - *lee.Interference[0].PathLossDB; level > noiseDBm {
		t.Errorf("in the lee %.1f dBm, the noise is %.1f dBm", level, noiseDBm)
	}
	if *lee.NoiseRiseHighDB > 0.1 || *front.NoiseRiseHighDB < 1 || lee.lostDB() > 0.01 || front.lostDB() <= 0.1 || *lee.RoomLowDB < 20 || *front.RoomHighDB > 0 {
		t.Errorf("noise up by %v and %v dB, margins less by %v and %v dB, room %v and %v dB",
			*lee.NoiseRiseHighDB, *front.NoiseRiseHighDB, lee.lostDB(), front.lostDB(), *lee.RoomLowDB, *front.RoomHighDB)
	}
	// The ridge hides 800 m in 3 km, 14.7°, on the lee's west.
	if top := lee.highest(); math.Abs(top-14.8) > 0.5 || *lee.InSightShare < 0.4 || *lee.InSightShare > 0.95 || *lee.Passes < 5 || *lee.BurstsLeast < 50 {
		t.Errorf("highest %v°, %v in sight, %d passes, %d bursts", top, *lee.InSightShare, *lee.Passes, *lee.BurstsLeast)
	}
	if r := strings.Join(lee.Reasons, " "); !strings.Contains(r, "behind ground that stands") || !strings.Contains(r, "It takes nothing off the beacon.") || !strings.Contains(r, "in the W") {
		t.Error(r)
	}
}

// lostDB returns what the transmitters take off the margin.
func (s studyJSON) lostDB() float64 { return *s.QuietHearingMarginDB - *s.HearingMarginDB }

// highest returns the highest elevation of a skyline.
func (s studyJSON) highest() float64 {
	top := math.Inf(-1)
	for _, p := range s.Skyline {
		top = max(top, *p.ElevationDeg)
	}
	return top
}

// The search around the crest ends up behind it when the transmitter is strong.
func TestSitesFindsTheLee(t *testing.T) {
	flags := byTheRidge(t, 66)
	args := append([]string{"sites", "--around", fmt.Sprintf("58.5,%.4f", eastOfRidge(0)), "--radius", "2km", "--grid", "1km"}, flags...)
	found := askSites(t, args...)
	if len(found) != 13 { // points of a grid in a circle of radius 2: Gauss
		t.Fatal(len(found))
	}
	for i, f := range found[:3] {
		if *f.LongitudeDeg < eastOfRidge(0.5) || f.Interference[0].Effect != "harmless" || f.Rank != i+1 || f.ScreenedOnly {
			t.Errorf("%d: %s at %v is %s", i+1, f.Name, *f.LongitudeDeg, f.Interference[0].Effect)
		}
		if i > 0 && *f.WorthDB > *found[i-1].WorthDB {
			t.Errorf("%s stands behind %s", f.Name, found[i-1].Name)
		}
	}
}

// On a map the places stand where they are: GeoJSON has the longitude first (RFC
// 7946, 3.1.1).
func TestSitesMap(t *testing.T) {
	flags := byTheRidge(t, 66)
	args := append([]string{"sites", filepath.Join(filepath.Dir(flags[1]), "sites.csv"), "--geojson"}, flags...)
	status, out, _ := runHere(t, context.Background(), args...)
	var m struct {
		Type     string
		Features []struct {
			Type     string
			Geometry struct {
				Type        string
				Coordinates []float64
			}
			Properties map[string]any
		}
	}
	if err := json.Unmarshal([]byte(out), &m); status != statusDone || err != nil {
		t.Fatal(status, err)
	}
	first := m.Features[0]
	if m.Type != "FeatureCollection" || len(m.Features) != 2 || first.Type != "Feature" || first.Geometry.Type != "Point" ||
		len(first.Geometry.Coordinates) != 2 || math.Abs(first.Geometry.Coordinates[0]-eastOfRidge(3)) > 1e-5 || first.Geometry.Coordinates[1] != 58.5 || first.Properties["name"] != "Lee" {
		t.Errorf("%+v", first)
	}
}

// watcher cancels as soon as progress is told.
type watcher struct {
	mu     sync.Mutex
	said   bytes.Buffer
	cancel context.CancelFunc
}

func (w *watcher) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if bytes.Contains(p, []byte("of 367")) {
		w.cancel()
	}
	return w.said.Write(p)
}

// Ctrl-C ends the search and keeps what was found.
func TestSitesStopped(t *testing.T) {
	flags := byTheRidge(t, 66)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var out bytes.Buffer
	errs := &watcher{cancel: cancel}
	sys := testSystem(system{
		stdin: strings.NewReader(""), stdout: &out, stderr: errs, width: 80, watched: true,
		env:           func(string) string { return "" },
		interruptible: func() (context.Context, context.CancelFunc) { return ctx, cancel },
	})
	// 317 points of a grid in a circle of radius 10 (Gauss), and 50 skylines.
	args := append([]string{"sites", "--around", "58.5,14.5", "--radius", "10km", "--grid", "1km", "--for", "6h", "--json"}, flags...)
	status := run(args, sys)
	var found []studyJSON
	if err := json.Unmarshal(out.Bytes(), &found); status != statusInterrupted || err != nil {
		t.Fatal(status, err, errs.said.String())
	}
	if len(found) == 0 || len(found) >= 317 || !found[0].ScreenedOnly || found[0].Interference == nil {
		t.Errorf("%d places, the first %+v", len(found), found[0])
	}
	if said := errs.said.String(); !strings.Contains(said, fmt.Sprintf("stopped after %d of 317 places, 0 of them", len(found))) || strings.Contains(said, "error") {
		t.Errorf("%q", said)
	}
}

// Where nobody watches, no progress is written.
func TestProgressIsQuiet(t *testing.T) {
	p := system{stderr: io.Discard, now: nil}.newProgress()
	p.tell("1 of 2 places") // would fail where it asked the clock
	p.clear()
	if p.width != 0 {
		t.Error("something was written")
	}
}

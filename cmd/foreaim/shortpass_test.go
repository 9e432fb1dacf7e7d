package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/elements"
)

// shortPass lays an invented low orbit and finds a site from which the object is
// seen so low that its whole pass takes only the given time.
func shortPass(t *testing.T, rise time.Time, lasts time.Duration) (elements.Set, track.Site) {
	t.Helper()
	set := elements.Set{
		Name: "MAYFLY", CatalogueNumber: 99077, Designator: "2026-199F", Classification: 'U',
		Epoch:               rise.Add(-6 * time.Hour).UTC().Round(time.Millisecond),
		MeanMotionRevPerDay: 16.1, Eccentricity: 0.0008, InclinationDeg: 20, BStar: 1e-4,
		ElementNumber: 1, RevolutionNumber: 1, Format: elements.TLE,
	}
	below, err := orbitOf(t, set).Ground(rise)
	if err != nil {
		t.Fatal(err)
	}
	set.NodeDeg = track.Wrap360(80 - below.LongitudeDeg) // over an ocean
	site := track.Site{LongitudeDeg: 80, HeightM: 25}
	// The further north of the track, the shorter the pass.
	var pass track.Pass
	near, far := 0.0, 18.0
	for range 40 {
		middle := (near + far) / 2
		site.LatitudeDeg = below.LatitudeDeg + middle
		passes, err := orbitOf(t, set).Passes(context.Background(), site, rise.Add(-15*time.Minute), rise.Add(15*time.Minute), 0)
		if err != nil {
			t.Fatal(err)
		}
		if len(passes) == 1 && passes[0].Duration() > lasts {
			near, pass = middle, passes[0]
		} else {
			far = middle
		}
	}
	if d := pass.Duration() - lasts; d > time.Second {
		t.Fatalf("the pass takes %v, want %v", pass.Duration(), lasts)
	}
	// The same orbit later, and turned as far as the Earth turns meanwhile,
	// looks the same from the site.
	const siderealDay = 86164.0905 // s, textbook value
	later := rise.Sub(pass.Rise.Time)
	set.Epoch = set.Epoch.Add(later)
	set.NodeDeg = track.Wrap360(set.NodeDeg + later.Seconds()*360/siderealDay)
	return set, site
}

func orbitOf(t *testing.T, set elements.Set) *track.Orbit {
	t.Helper()
	o, err := track.NewOrbit(set)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// writeElements writes a set as a file and returns its path.
func writeElements(t *testing.T, set elements.Set) string {
	t.Helper()
	line1, line2, err := set.TLE()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "elements.tle")
	if err := os.WriteFile(file, []byte(set.Name+"\n"+line1+"\n"+line2+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// emberlingRising returns the world in which EMBERLING rises at a time.
func emberlingRising(t *testing.T, rise time.Time) *world.World {
	t.Helper()
	w, err := world.New(context.Background(), rise.Add(14*time.Second))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

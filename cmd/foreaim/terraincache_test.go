package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreaim/track/terrain"
)

// skylineHere runs skyline with a folder for what can be worked out again.
func skylineHere(t *testing.T, cache, tiles string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	sys := testSystem(system{
		stdin: strings.NewReader(""), stdout: &out, stderr: &errs, width: 80,
		env: func(string) string { return "" }, cacheFolder: cache,
		interruptible: func() (context.Context, context.CancelFunc) { return context.WithCancel(context.Background()) },
	})
	args = append([]string{"skyline", "--site", "58.3127,14.0864", "--terrain", tiles, "--sea"}, args...)
	if status := run(args, sys); status != statusDone || errs.Len() > 0 {
		t.Fatal(status, errs.String())
	}
	return out.String()
}

// What was kept is used while the tiles are what they were, and never where it was
// damaged, is of another antenna, or can't be written.
func TestKeptSkylines(t *testing.T) {
	folder := t.TempDir()
	tiles, cache := filepath.Join(folder, "tiles"), filepath.Join(folder, "cache")
	if err := writeTiles(tiles, ridgeByMeadow(), [2]int{58, 14}); err != nil {
		t.Fatal(err)
	}
	want := skylineHere(t, "", tiles)
	if got := skylineHere(t, cache, tiles); got != want {
		t.Errorf("with a cache:\n%s", got)
	}
	kept, err := filepath.Glob(filepath.Join(cache, "skylines", "*.json"))
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	good, err := os.ReadFile(kept[0])
	if err != nil {
		t.Fatal(err)
	}
	change := func(by func(k *keptPanorama)) []byte {
		var k keptPanorama
		if err := json.Unmarshal(good, &k); err != nil {
			t.Fatal(err)
		}
		by(&k)
		data, err := json.Marshal(k)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	// It is used at all: another height is believed.
	higher := change(func(k *keptPanorama) { k.Panorama.GroundM = 777 })
	for name, c := range map[string]struct {
		data []byte
		used bool
	}{
		"another height":   {higher, true},
		"another stamp":    {change(func(k *keptPanorama) { k.Stamp += "x"; k.Panorama.GroundM = 777 }), false},
		"no stamp":         {change(func(k *keptPanorama) { k.Stamp = ""; k.Panorama.GroundM = 777 }), false},
		"cut":              {good[:len(good)/2], false},
		"empty":            {nil, false},
		"no crests":        {change(func(k *keptPanorama) { k.Panorama.Crests = nil }), false},
		"crests elsewhere": {change(func(k *keptPanorama) { k.Panorama.Crests = k.Panorama.Crests[5:] }), false},
		"beyond the sky":   {change(func(k *keptPanorama) { k.Panorama.Crests[7].ElevationDeg = 1e300 }), false},
	} {
		if err := os.WriteFile(kept[0], c.data, 0o666); err != nil {
			t.Fatal(err)
		}
		if got := skylineHere(t, cache, tiles); strings.Contains(got, "777 m above the sea") != c.used || !c.used && got != want {
			t.Errorf("%s:\n%s", name, got)
		}
	}
	if got := skylineHere(t, cache, tiles, "--antenna-height", "30"); got == want {
		t.Error("the antenna's height makes no difference")
	}
	// Where a file stands in the way nothing is kept, and nothing is missing.
	if got := skylineHere(t, kept[0], tiles); got != want {
		t.Errorf("without room:\n%s", got)
	}
}

// There is room for so many, and the oldest make way.
func TestOldSkylinesMakeWay(t *testing.T) {
	folder := t.TempDir()
	for i := range mostKept + 5 {
		keep(filepath.Join(folder, "skylines", string(rune('a'+i%26))+strings.Repeat("x", i/26)+".json"), keptPanorama{Stamp: "s", Panorama: terrain.Panorama{ReachKm: 1}})
	}
	entries, err := os.ReadDir(filepath.Join(folder, "skylines"))
	if err != nil || len(entries) != mostKept {
		t.Errorf("%d are kept, %v", len(entries), err)
	}
	if _, err := os.Stat(filepath.Join(folder, "skylines", "a.json")); err == nil {
		t.Error("the oldest is still there")
	}
}

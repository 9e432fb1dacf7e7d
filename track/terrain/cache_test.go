package terrain

import (
	"math"
	"sync"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"
)

// Little memory costs time, not truth.
func TestCacheIsBounded(t *testing.T) {
	shape := landscape.Shape(func(lat, lon float64) float64 { return math.Floor(1200*(lat-58)) + math.Floor(100*(lon-14)) })
	raw := landscape.Tile(shape, 58, 14, 1201)
	for name, folder := range map[string]fstest.MapFS{
		"plain": {"N58E014.hgt": {Data: raw}}, "zip": {"N58E014.hgt.zip": {Data: zipped(t, map[string][]byte{"N58E014.hgt": raw})}},
	} {
		const limit = 700e3 // two blocks
		small, large := NewTiles(folder, TilesOptions{CacheBytes: limit}), NewTiles(folder, TilesOptions{})
		for i := range 40 {
			lat, lon := 58+math.Mod(float64(i)*0.377, 1), 14+math.Mod(float64(i)*0.211, 1)
			got, err := small.HeightM(lat, lon)
			want, err2 := large.HeightM(lat, lon)
			if err != nil || err2 != nil || got != want {
				t.Fatal(name, got, want, err, err2)
			}
			if small.cache.bytes > limit {
				t.Fatalf("%s: %d bytes held", name, small.cache.bytes)
			}
		}
		if large.cache.bytes < 2e6 || len(large.cache.held) < 8 {
			t.Errorf("%s: only %d bytes in %d blocks", name, large.cache.bytes, len(large.cache.held))
		}
	}
}

// Many at once, with hardly any memory, get what one alone gets.
func TestTilesForManyAtOnce(t *testing.T) {
	shape := landscape.Shape(func(lat, lon float64) float64 { return math.Floor(300*(lat-58)) + math.Floor(100*(lon-14)) })
	folder := fstest.MapFS{"N58E014.hgt": hgt(58, 14, 1201, shape), "N58E015.hgt.zip": {Data: zipped(t, map[string][]byte{"N58E015.hgt": landscape.Tile(shape, 58, 15, 1201)})}}
	shared, alone := NewTiles(folder, TilesOptions{CacheBytes: 1e6}), NewTiles(folder, TilesOptions{})
	places := make([]Place, 60)
	want := make([]float64, len(places))
	for i := range places {
		places[i] = Place{58 + math.Mod(float64(i)*0.377, 1), 14 + math.Mod(float64(i)*0.411, 2)}
		var err error
		if want[i], err = alone.HeightM(places[i].LatitudeDeg, places[i].LongitudeDeg); err != nil {
			t.Fatal(err)
		}
	}
	var wait sync.WaitGroup
	for worker := range 4 {
		wait.Go(func() {
			for i := range places {
				i = (i*7 + worker*13) % len(places)
				if got, err := shared.HeightM(places[i].LatitudeDeg, places[i].LongitudeDeg); err != nil || got != want[i] {
					t.Errorf("%v: %v, %v, want %v", places[i], got, err, want[i])
				}
			}
		})
	}
	wait.Wait()
}

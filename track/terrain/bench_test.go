package terrain

import (
	"context"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"foreaim/track/terrain/landscape"
)

// hills is a folder of tiles of 1 arc-second around the meadow. They are made once
// and kept among temporary files.
func hills(b *testing.B) fs.FS {
	b.Helper()
	dir := filepath.Join(os.TempDir(), "foreaim-bench-hills")
	if err := os.MkdirAll(dir, 0o777); err != nil {
		b.Fatal(err)
	}
	shape := landscape.Sum(landscape.Level(200), landscape.Rolling(150, 7), landscape.Rolling(30, 1.3))
	for south := 57; south <= 59; south++ {
		for west := 12; west <= 16; west++ {
			name := filepath.Join(dir, square{south, west}.String()+".hgt")
			if info, err := os.Stat(name); err == nil && info.Size() == 3601*3601*2 {
				continue
			}
			if err := os.WriteFile(name, landscape.Tile(shape, south, west, 3601), 0o666); err != nil {
				b.Fatal(err)
			}
		}
	}
	return os.DirFS(dir)
}

func BenchmarkSkylineCold(b *testing.B) {
	folder := hills(b)
	for b.Loop() {
		mustLookAround(b, NewTiles(folder, TilesOptions{}), meadow, 2, View{})
	}
}

func BenchmarkSkylineWarm(b *testing.B) {
	tiles := NewTiles(hills(b), TilesOptions{})
	mustLookAround(b, tiles, meadow, 2, View{})
	for b.Loop() {
		mustLookAround(b, tiles, meadow, 2, View{})
	}
}

// A profile of 60 km with its loss.
func BenchmarkProfile(b *testing.B) {
	tiles := NewTiles(hills(b), TilesOptions{})
	to := moved(meadow, 70, 60)
	for b.Loop() {
		p, err := NewProfile(tiles, meadow, to, 0)
		if err == nil {
			_, err = p.Pass(Link{FrequencyMHz: 500, FromM: 2, ToM: 100})
		}
		if err != nil {
			b.Fatal(err)
		}
	}
}

// 20 km × 20 km, a place every 500 m, 20 transmitters up to 60 km away. Reports the
// largest heap.
func BenchmarkSearch(b *testing.B) {
	folder := hills(b)
	s := Search{LevelDBm: levelOf, FloorDBm: -115}
	for i := range 20 {
		s.Emitters = append(s.Emitters, Emitter{Place: moved(meadow, float64(i)*18, 15+float64(i*7%46)), MastM: 100, FrequencyMHz: 500})
	}
	var candidates []Candidate
	for north := -20; north <= 20; north++ {
		for east := -20; east <= 20; east++ {
			p := moved(moved(meadow, 0, float64(north)/2), 90, float64(east)/2)
			candidates = append(candidates, Candidate{"", p, 2})
		}
	}
	var largest atomic.Uint64
	stop := make(chan bool)
	go func() {
		var m runtime.MemStats
		for {
			runtime.ReadMemStats(&m)
			largest.Store(max(largest.Load(), m.HeapSys-m.HeapReleased))
			select {
			case <-stop:
				return
			case <-time.After(100 * time.Millisecond):
			}
		}
	}()
	for b.Loop() {
		s.Ground = NewTiles(folder, TilesOptions{})
		found, err := s.Run(context.Background(), candidates)
		if err != nil || len(found) != len(candidates) || math.IsNaN(found[0].WorthDB) {
			b.Fatal(len(found), err)
		}
	}
	close(stop)
	b.ReportMetric(float64(largest.Load())/1e6, "MB-heap")
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		_, peak, _ := strings.Cut(string(status), "VmHWM:")
		peak, _, _ = strings.Cut(peak, "\n")
		b.Log("most memory ever:", strings.TrimSpace(peak))
	}
}

package main

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
	"foreaim/track"
	"foreaim/track/terrain"
)

// usedFiles is a folder that remembers which of its files were opened.
type usedFiles struct {
	fs.FS
	folder string
	mu     sync.Mutex
	names  map[string]bool
}

func newUsedFiles(folder string) *usedFiles {
	return &usedFiles{FS: os.DirFS(folder), folder: folder, names: map[string]bool{}}
}

// Open opens a file of the folder.
func (u *usedFiles) Open(name string) (fs.File, error) {
	f, err := u.FS.Open(name)
	if err == nil {
		u.mu.Lock()
		u.names[name] = true
		u.mu.Unlock()
	}
	return f, err
}

// Stat asks about a file without opening it.
func (u *usedFiles) Stat(name string) (fs.FileInfo, error) { return fs.Stat(u.FS, name) }

// used returns the names of the files that were opened.
func (u *usedFiles) used() []string {
	u.mu.Lock()
	defer u.mu.Unlock()
	var all []string
	for name := range u.names {
		all = append(all, name)
	}
	slices.Sort(all)
	return all
}

// stamp tells a state of files of the folder from any other: of each name its
// size and when it was changed, of the folder when files came or went.
func (u *usedFiles) stamp(names []string) string {
	var b strings.Builder
	for _, name := range append([]string{"."}, names...) {
		info, err := u.Stat(name)
		if err != nil {
			return ""
		}
		size := info.Size()
		if info.IsDir() {
			size = 0
		}
		fmt.Fprintf(&b, "%s %d %s\n", name, size, info.ModTime().UTC())
	}
	return b.String()
}

// keptPanorama is the skyline of the ground as it is kept for the next time.
type keptPanorama struct {
	Tiles    []string // that were read
	Stamp    string   // of these
	Panorama terrain.Panorama
}

// panoramaWay is counted up when another way to work skylines out makes the kept
// ones worthless.
const panoramaWay = 1

// mostKept is how many sites' skylines are kept, of about 100 kB each.
const mostKept = 100

// lookAround works out what the ground hides of a site's sky, or takes it from the
// folder for what can be worked out again.
func (sys system) lookAround(ctx context.Context, g *ground, site track.Site) (terrain.Panorama, error) {
	at := standAt(site)
	file := sys.panoramaFile(g, at)
	if p, ok := g.kept(file); ok {
		return p, nil
	}
	before := g.files.stamp(nil)
	p, err := terrain.LookAround(ctx, g, at, g.antennaM, terrain.View{})
	if err != nil {
		return terrain.Panorama{}, g.problem(err, g.files.folder)
	}
	tiles := g.files.used()
	if stamp := g.files.stamp(tiles); file != "" && before != "" && strings.HasPrefix(stamp, before) {
		keep(file, keptPanorama{tiles, stamp, p})
	}
	return p, nil
}

// panoramaFile is where the skyline of a place is kept; empty where there is no
// room for such.
func (sys system) panoramaFile(g *ground, at terrain.Place) string {
	folder, err := filepath.Abs(g.files.folder)
	if sys.cacheFolder == "" || err != nil {
		return ""
	}
	of := fmt.Sprintln(panoramaWay, folder, at.LatitudeDeg, at.LongitudeDeg, g.antennaM, g.sea)
	return filepath.Join(sys.cacheFolder, "skylines", fmt.Sprintf("%x.json", sha256.Sum256([]byte(of))))
}

// kept reads a skyline that is still true.
func (g *ground) kept(file string) (p terrain.Panorama, ok bool) {
	data, err := os.ReadFile(file)
	var k keptPanorama
	if err != nil || json.Unmarshal(data, &k) != nil || k.Stamp == "" || k.Stamp != g.files.stamp(k.Tiles) {
		return p, false
	}
	return k.Panorama, whole(k.Panorama)
}

// whole tells whether a panorama can be what was worked out: crests evenly from
// north, none beyond the sky.
func whole(p terrain.Panorama) bool {
	for i, c := range p.Crests {
		if c.AzimuthDeg != 360*float64(i)/float64(len(p.Crests)) || !(c.ElevationDeg >= -90 && c.ElevationDeg <= 90) {
			return false
		}
	}
	return len(p.Crests) > 0 && p.ReachKm > 0
}

// keepWithin is how long another program that keeps a skyline is waited for.
const keepWithin = 200 * time.Millisecond

// keep writes a skyline and makes room for it. What can't be kept is worked out
// again, so nobody need know.
func keep(file string, k keptPanorama) {
	data, err := json.Marshal(k)
	folder := filepath.Dir(file)
	if err != nil || os.MkdirAll(folder, 0o777) != nil {
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), keepWithin)
	defer cancel()
	unlock, err := durable.Lock(ctx, folder+".lock")
	if err != nil {
		return
	}
	defer unlock()
	if durable.WriteFile(file, data) != nil {
		return
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) <= mostKept {
		return
	}
	age := func(e os.DirEntry) int64 {
		if info, err := e.Info(); err == nil {
			return info.ModTime().UnixNano()
		}
		return 0
	}
	slices.SortFunc(entries, func(a, b os.DirEntry) int { return cmp.Compare(age(a), age(b)) })
	for _, e := range entries[:len(entries)-mostKept] {
		os.Remove(filepath.Join(folder, e.Name())) // another program may have done so
	}
}

package terrain

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// tilted is linear in latitude and longitude, so that bilinear is exact.
func tilted(lat, lon float64) float64 { return 20*lat - 7*math.Remainder(lon-170, 360) + 1500 }

// hgt makes a tile of whole metres.
func hgt(south, west, samples int, s landscape.Shape) *fstest.MapFile {
	return &fstest.MapFile{Data: landscape.Tile(s, south, west, samples)}
}

// zipped packs files.
func zipped(t testing.TB, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, raw := range files {
		f, err := w.Create(name)
		if err == nil {
			_, err = f.Write(raw)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// testdata/terrain/N58E014.hgt.zip was written by GDAL 3.6.2 and Info-ZIP: row/4
// less column/8, one void.
func TestHGTOfAnotherProgram(t *testing.T) {
	packed := given(t, "N58E014.hgt.zip")
	archive, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	raw, err := fs.ReadFile(archive, "N58E014.hgt")
	if err != nil {
		t.Fatal(err)
	}
	for name, tiles := range map[string]*Tiles{"zip": only("N58E014.hgt.zip", packed), "plain": only("N58E014.hgt", raw)} {
		for _, c := range []struct{ row, col int }{{0, 0}, {0, 1200}, {1200, 0}, {1200, 1200}, {127, 9}, {128, 9}, {999, 801}} {
			got, err := tiles.HeightM(59-float64(c.row)/1200, 14+float64(c.col)/1200)
			if c.row == 0 || c.col == 1200 { // the neighbour's
				continue
			}
			if err != nil {
				t.Error(name, err)
			}
			near(t, fmt.Sprintf("%s: row %d, column %d", name, c.row, c.col), got, float64(c.row/4-c.col/8), 1e-6)
		}
		got, err := tiles.HeightM(58.5, 14.5) // the void, between equals
		if err != nil {
			t.Error(name, err)
		}
		near(t, name+": void", got, 150-75, 1)
	}
}

// What lies between the samples is the same through all kinds of tiles, over all
// edges, at the date line too.
func TestNoStepBetweenTiles(t *testing.T) {
	pixels := fstest.MapFS{}
	points := fstest.MapFS{}
	for south := 9; south <= 11; south++ {
		for _, west := range []int{178, 179, -180, -179} {
			name := square{south, west}.String()
			// Half a pixel inside all around, and half a pixel up and left.
			step := 1.0 / 40
			pixels[name+".tif"] = &fstest.MapFile{Data: madeTIFF(float64(west)+step/2, float64(south+1)-step/2, step, 40, 40, west > 0, tilted)}
			points[name+".tif"] = &fstest.MapFile{Data: madeTIFF(float64(west), float64(south+1), step, 40, 40, south > 10, tilted)}
		}
	}
	for name, folder := range map[string]fstest.MapFS{"areas": pixels, "points": points} {
		tiles := NewTiles(folder, TilesOptions{})
		check := func(lat, lon float64) {
			got, err := tiles.HeightM(lat, lon)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-tilted(lat, lon)) > 1e-3 {
				t.Fatalf("%s: %v at %.9f, %.9f, want %v", name, got, lat, lon, tilted(lat, lon))
			}
		}
		for lat := 9.9; lat < 11.1; lat += 0.0037 {
			for _, lon := range []float64{178.99, 178.9999, 179, 179.001, 179.3, 179.99, 179.99999, 180, -180, 180.004, -179.99, -179.5, -179.001, 540.01} {
				check(lat, lon)
			}
		}
		for _, lat := range []float64{10, 11, 10 + 1e-12, 11 - 1e-12, 10.0125, 10.99} {
			for lon := 178.9; lon < 181.1; lon += 0.0037 {
				check(lat, lon)
			}
		}
	}
}

// Shared edges of .hgt tiles, both densities side by side; whole metres.
func TestHGTEdges(t *testing.T) {
	whole := landscape.Shape(func(lat, lon float64) float64 { return 1200*(lat-58) + 600 })
	tiles := NewTiles(fstest.MapFS{
		"N58E014.hgt": hgt(58, 14, 1201, whole), "N58E015.hgt": hgt(58, 15, 3601, landscape.Level(900)), "n57_e014_dem.hgt": hgt(57, 14, 1201, whole),
	}, TilesOptions{})
	for lat := 57.9; lat < 58.1; lat += 0.00093 {
		got, err := tiles.HeightM(lat, 14.7)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint(lat), got, whole(lat, 0), 1e-6)
	}
	for _, lon := range []float64{15, 15.5} {
		got, err := tiles.HeightM(58.7, lon)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint(lon), got, 900, 1e-6)
	}
}

func TestPoles(t *testing.T) {
	top := landscape.Shape(func(lat, _ float64) float64 { return (90 - lat) * 1200 })
	folder := fstest.MapFS{}
	north := hgt(89, 0, 1201, top) // of every longitude
	for west := -180; west < 180; west++ {
		folder[square{89, west}.String()+".hgt"] = north
	}
	folder["S90W001.hgt"] = hgt(-90, -1, 1201, landscape.Level(2800))
	tiles := NewTiles(folder, TilesOptions{})
	for _, c := range []struct{ lat, lon, want float64 }{{90, 0, 0}, {90, 123.4, 0}, {89.5, -180, 600}, {-90, -0.5, 2800}, {-89.9, -0.1, 2800}} {
		got, err := tiles.HeightM(c.lat, c.lon)
		if err != nil {
			t.Error(err)
		}
		near(t, fmt.Sprint(c.lat, c.lon), got, c.want, 1e-6)
	}
	// Across the pole and down the other side.
	p, err := NewProfile(tiles, Place{89.9, 20}, Place{89.9, -160}, 100)
	if err != nil {
		t.Fatal(err)
	}
	lowest := math.Inf(1)
	for i, h := range p.GroundM {
		lowest = min(lowest, h)
		want := math.Abs(p.DistanceKm[i]/p.LengthKm()-0.5) * 2 * 120
		near(t, "across the pole", h, want, 0.01)
	}
	if lowest > 1 {
		t.Errorf("lowest %v, want the pole", lowest)
	}
	if _, err := tiles.HeightM(90.1, 0); err == nil {
		t.Error("latitude 90.1 is taken")
	}
	if _, err := tiles.HeightM(0, math.NaN()); err == nil {
		t.Error("longitude NaN is taken")
	}
}

// What a folder is asked for.
type watched struct {
	fs.FS
	opened []string
}

func (w *watched) Open(name string) (fs.File, error) {
	w.opened = append(w.opened, name)
	return w.FS.Open(name)
}

func TestFolderIsNotScanned(t *testing.T) {
	folder := fstest.MapFS{}
	for i := range 10000 {
		folder[fmt.Sprintf("N%02dE%03d.hgt", i/180, i%180)] = &fstest.MapFile{Data: []byte("broken")}
	}
	folder["N20E030.hgt"] = hgt(20, 30, 1201, landscape.Level(77))
	w := &watched{FS: folder}
	tiles := NewTiles(w, TilesOptions{})
	if len(w.opened) != 0 {
		t.Errorf("%q at the start", w.opened)
	}
	for range 3 {
		if got, err := tiles.HeightM(20.5, 30.5); err != nil || got != 77 {
			t.Error(got, err)
		}
	}
	if diff := cmp.Diff([]string{"N20E030.hgt", "N20E030.hgt", "N20E030.hgt"}, w.opened); diff != "" { // there? size? block
		t.Error(diff)
	}
}

func TestTileErrors(t *testing.T) {
	level := landscape.Tile(landscape.Level(5), 58, 14, 1201)
	packed := zipped(t, map[string][]byte{"N58E014.hgt": level})
	flipped := bytes.Clone(packed)
	flipped[len(flipped)/3] ^= 0x40
	lying := bytes.Clone(packed) // the directory says 1 arc-second
	i := bytes.LastIndex(lying, []byte("PK\x01\x02"))
	copy(lying[i+24:], []byte{0x42, 0xba, 0x8b, 0x01})
	lying2 := zipped(t, map[string][]byte{"N58E014.hgt": make([]byte, 3601*3601*2)}) // ... 3 arc-seconds, but a bomb
	j := bytes.LastIndex(lying2, []byte("PK\x01\x02"))
	copy(lying2[j+24:], []byte{0xc2, 0x04, 0x2c, 0x00})
	many := map[string][]byte{}
	for i := range 150 {
		many[fmt.Sprint(i)] = nil
	}
	for _, c := range []struct {
		name, file string
		raw        []byte
		want       string // all of it, or its begin before …
	}{
		{"cut short", "N58E014.hgt", level[:1000], "N58E014.hgt: is 1000 bytes, want 2884802 (3 arc-seconds) or 25934402 (1 arc-second); fetch it again"},
		{"empty", "N58E014.hgt", nil, "N58E014.hgt: is 0 bytes, want 2884802 (3 arc-seconds) or 25934402 (1 arc-second); fetch it again"},
		{"no zip", "N58E014.hgt.zip", []byte("hello"), "N58E014.hgt.zip: is no zip archive, or cut short; fetch it again: zip: not a valid zip file"},
		{"zip cut short", "N58E014.hgt.zip", packed[:len(packed)/2], "N58E014.hgt.zip: is no zip archive, or cut short; fetch it again: zip: not a valid zip file"},
		{"other tile in the zip", "N58E014.hgt.zip", zipped(t, map[string][]byte{"N59E014.hgt": level}), "N58E014.hgt.zip: holds the tile N59E014, want N58E014; rename it"},
		{"wrong size in the zip", "N58E014.hgt.zip", zipped(t, map[string][]byte{"N58E014.hgt": level[:10]}), "N58E014.hgt.zip: holds a tile of 10 bytes, want 2884802 (3 arc-seconds) or 25934402 (1 arc-second); fetch it again"},
		{"no tile in the zip", "N58E014.hgt.zip", zipped(t, map[string][]byte{"readme.txt": []byte("hi")}), "N58E014.hgt.zip: holds no file whose name ends in .hgt"},
		{"many files in the zip", "N58E014.hgt.zip", zipped(t, many), "N58E014.hgt.zip: holds 150 files, want one tile"},
		{"damaged zip", "N58E014.hgt.zip", flipped, "N58E014.hgt.zip: can't be unpacked…"},
		{"zip with less than it says", "N58E014.hgt.zip", lying, "N58E014.hgt.zip: can't be unpacked…"},
		{"zip bomb", "N58E014.hgt.zip", lying2, "N58E014.hgt.zip: can't be unpacked…"},
	} {
		_, err := only(c.file, c.raw).HeightM(58.5, 14.5)
		want, begin := strings.CutSuffix(c.want, "…")
		if err == nil || err.Error() != want && !(begin && strings.HasPrefix(err.Error(), want)) || !errors.As(err, new(*TileError)) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func TestMissingTile(t *testing.T) {
	tiles := only("N58E014.hgt", landscape.Tile(landscape.Level(5), 58, 14, 1201))
	var missing *MissingError
	if _, err := tiles.HeightM(-3.5, -61.5); !errors.As(err, &missing) || missing.Tile != "S04W062" || missing.Hint() == "" ||
		err.Error() != "no elevation tile S04W062 (S04W062.hgt, S04W062.hgt.zip or a .tif whose name holds S04W062)" {
		t.Error(err)
	}
	sea := NewTiles(fstest.MapFS{}, TilesOptions{MissingIsSea: true})
	if got, err := sea.HeightM(1.5, 2.5); err != nil || got != 0 {
		t.Error(got, err)
	}
	two := NewTiles(fstest.MapFS{"n58_e014_a.tif": {}, "n58_e014_b.tif": {}}, TilesOptions{})
	if _, err := two.HeightM(58.5, 14.5); err == nil || err.Error() != "n58_e014_b.tif: n58_e014_a.tif is a tile for N58E014 too; keep one of the two" {
		t.Error(err)
	}
}

func TestSquareNames(t *testing.T) {
	for name, want := range map[string]string{
		"N58E014.hgt": "N58E014", "n58e014.HGT.zip": "N58E014", "s04_w062_1arc_v3.tif": "S04W062", "DEM_10_N58_00_E014_00_DEM.tif": "N58E014",
		"S90W180.zip": "S90W180", "N58E014.SRTMGL1.hgt.zip": "N58E014", "N58E180.hgt": "", "N90E000.hgt": "", "N58E014.png": "", "N58E0145.hgt": "",
		"PLAN58E014.hgt": "", "readme.hgt": "", "N8E014.hgt": "",
	} {
		s, ok := squareOf(name)
		if ok != (want != "") || ok && s.String() != want {
			t.Errorf("%s: %v, %v, want %s", name, s, ok, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-1000, 1000).Draw(t, "lon")
		s := squareAt(lat, lon)
		if got, ok := squareOf(s.String() + ".hgt"); !ok || got != s {
			t.Errorf("%v %v: %v, %v", lat, lon, got, s)
		}
		if away := math.Remainder(lon-float64(s.west)-0.5, 360); math.Abs(away) > 0.5+1e-9 {
			t.Errorf("%v is in %v", lon, s)
		}
	})
}

func TestVoids(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		hole func(row, col int) bool
		rise float64 // a sample eastwards
		want float64 // NaN: not known
	}{
		{"one sample", func(r, c int) bool { return r == 600 && c == 600 }, 4, 1000},
		{"three by three", func(r, c int) bool { return r > 598 && r < 602 && c > 598 && c < 602 }, 4, 1000},
		{"a column of three", func(r, c int) bool { return c > 598 && c < 602 }, 4, 1000},
		{"four by four", func(r, c int) bool { return r > 598 && r < 603 && c > 598 && c < 603 }, 4, nan},
		{"steep", func(r, c int) bool { return c == 600 }, 26, nan},
		{"steep across, level along", func(r, c int) bool { return r == 600 }, 8, 1000},
		{"at the edge", func(r, c int) bool { return c <= 600 }, 1, nan},
	} {
		tiles := only("N58E014.hgt", landscape.Tile(func(lat, lon float64) float64 {
			row, col := int(math.Round((59-lat)*1200)), int(math.Round((lon-14)*1200))
			if c.hole(row, col) {
				return nan
			}
			return min(max(0, 1000+c.rise*float64(col-600)), 9000)
		}, 58, 14, 1201))
		got, err := tiles.HeightM(58.5, 14.5)
		if math.IsNaN(c.want) {
			var void *VoidError
			if !errors.As(err, &void) || math.Abs(void.LatitudeDeg-58.5) > 1e-3 || math.Abs(void.LongitudeDeg-14.5) > 1e-3 {
				t.Errorf("%s: %v, %v, want unknown", c.name, got, err)
			}
			continue
		}
		if err != nil {
			t.Error(c.name, err)
		}
		near(t, c.name, got, c.want, 1e-6)
	}
}

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

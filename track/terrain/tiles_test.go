package terrain

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"

	"github.com/google/go-cmp/cmp"
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
	// The names are read once, when one is missing.
	w.opened = nil
	for _, lon := range []float64{-30.5, -31.5, -30.5} {
		if _, err := tiles.HeightM(-20.5, lon); !errors.As(err, new(*MissingError)) {
			t.Error(err)
		}
	}
	if diff := cmp.Diff([]string{
		"S21W031.hgt", "S21W031.hgt.zip", "S21W031.tif", ".", "S21W032.hgt", "S21W032.hgt.zip", "S21W032.tif",
	}, w.opened); diff != "" {
		t.Error(diff)
	}
}

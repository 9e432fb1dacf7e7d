package terrain

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// TilesOptions are what may be said about a folder of tiles.
type TilesOptions struct {
	// CacheBytes bounds the memory for heights; 0: 128 MB, enough for a search
	// over 20 km × 20 km with the ground for 60 km around. What was dropped and
	// waits to be collected can take up as much again.
	CacheBytes int64
	// MissingIsSea: where there is no tile the height is 0. Public data has no
	// tiles where all is sea. Otherwise that is a *MissingError.
	MissingIsSea bool
}

const defaultCacheBytes = 128 << 20

// Tiles is the Ground of a folder of elevation tiles, one a degree of latitude and
// longitude: .hgt of 1 or 3 arc-seconds, plain or zipped, and GeoTIFF in latitude
// and longitude. The names tell the south-west corner: N58E014.hgt,
// N58E014.hgt.zip, any .hgt, .tif or .zip with n58_e014 or N58_00_E014_00 in its
// name. Nothing is read before it is needed; blocks of tiles are kept within a
// bound. Between samples the height is bilinear, over the edge of a tile too;
// where the neighbour is missing the last sample holds for one sample's width.
//
// Narrow voids between ground that is alike are filled, others are a *VoidError;
// what is under -1000 or over 9500 m counts as void. A file that is not right is a
// *TileError.
type Tiles struct {
	fsys  fs.FS
	sea   bool
	cache cache
	known [squares]atomic.Pointer[tile]
	mu    sync.Mutex // held while a tile is opened
	names map[square][]string
}

// tile is what is known of a square: a raster, sea, or an error.
type tile struct {
	raster *raster // nil without error: sea
	err    error
}

// NewTiles returns the ground of a folder. It reads nothing yet.
func NewTiles(fsys fs.FS, options TilesOptions) *Tiles {
	t := &Tiles{fsys: fsys, sea: options.MissingIsSea}
	t.cache.limit = options.CacheBytes
	if t.cache.limit <= 0 {
		t.cache.limit = defaultCacheBytes
	}
	return t
}

// HeightM returns the height of the ground in metres above mean sea level.
func (t *Tiles) HeightM(latitudeDeg, longitudeDeg float64) (float64, error) {
	if !(latitudeDeg >= -90 && latitudeDeg <= 90) || math.IsNaN(longitudeDeg) || math.IsInf(longitudeDeg, 0) {
		return 0, fmt.Errorf("no place: latitude %v, longitude %v", latitudeDeg, longitudeDeg)
	}
	s := squareAt(latitudeDeg, longitudeDeg)
	r, err := t.tile(s)
	if r == nil {
		return 0, err
	}
	x, y := r.xy(latitudeDeg, longitudeDeg)
	if x >= -onEdge && y >= -onEdge && x <= float64(r.cols-1)+onEdge && y <= float64(r.rows-1)+onEdge {
		return r.height(x, y)
	}
	return t.overEdge(s, r, latitudeDeg, longitudeDeg)
}

// onEdge is what rounding may put a sample beside the edge, in samples.
const onEdge = 1e-6

// tile returns the tile of a square; nil without error: sea.
func (t *Tiles) tile(s square) (*raster, error) {
	known := t.known[s.index()].Load()
	if known == nil {
		known = t.open(s)
	}
	return known.raster, known.err
}

func (t *Tiles) open(s square) *tile {
	t.mu.Lock()
	defer t.mu.Unlock()
	if known := t.known[s.index()].Load(); known != nil {
		return known
	}
	opened := &tile{}
	name, err := t.find(s)
	switch {
	case err == nil:
		opened.raster, opened.err = openTile(file{t.fsys, name}, s, &t.cache)
	case errors.As(err, new(*MissingError)) && t.sea: // sea
	default:
		opened.err = err
	}
	t.known[s.index()].Store(opened)
	return opened
}

func openTile(f file, s square, c *cache) (*raster, error) {
	switch lower := strings.ToLower(f.name); {
	case strings.HasSuffix(lower, ".hgt"):
		return openHGT(f, s, c)
	case strings.HasSuffix(lower, ".zip"):
		return openHGTZip(f, s, c)
	default:
		return openTIFF(f, s, c)
	}
}

// find returns the name of a square's file: the plain ones are tried; only when
// there is none are the names of the folder read, once.
func (t *Tiles) find(s square) (string, error) {
	for _, ending := range endings[:3] {
		name := s.String() + ending
		if _, err := fs.Stat(t.fsys, name); err == nil {
			return name, nil
		} else if !errors.Is(err, fs.ErrNotExist) {
			return "", &TileError{File: name, What: "can't be opened", Err: err}
		}
	}
	if t.names == nil {
		var err error
		if t.names, err = readNames(t.fsys); err != nil {
			return "", err
		}
	}
	for _, ending := range endings {
		var found []string
		for _, name := range t.names[s] {
			if strings.HasSuffix(strings.ToLower(name), ending) {
				found = append(found, name)
			}
		}
		if len(found) > 1 {
			slices.Sort(found)
			return "", &TileError{File: found[1], What: fmt.Sprintf("%s is a tile for %s too; keep one of the two", found[0], s)}
		}
		if len(found) == 1 {
			return found[0], nil
		}
	}
	return "", &MissingError{s.String()}
}

// maxNames is how many files a folder may have: three for every square of the
// Earth.
const maxNames = 3 * squares

// readNames returns the names of all tiles of a folder. No file is opened.
func readNames(fsys fs.FS) (map[square][]string, error) {
	folder, err := fsys.Open(".")
	if err != nil {
		return nil, fmt.Errorf("folder of elevation tiles: %w", err)
	}
	defer folder.Close()
	dir, ok := folder.(fs.ReadDirFile)
	if !ok {
		return nil, errors.New("folder of elevation tiles: not a folder")
	}
	entries, err := dir.ReadDir(maxNames + 1)
	if err != nil && len(entries) == 0 && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("folder of elevation tiles: %w", err)
	}
	if len(entries) > maxNames {
		return nil, fmt.Errorf("folder of elevation tiles: more than %d files; is it the right one?", maxNames)
	}
	names := map[square][]string{}
	for _, e := range entries {
		if s, ok := squareOf(e.Name()); ok && !e.IsDir() {
			names[s] = append(names[s], e.Name())
		}
	}
	return names, nil
}

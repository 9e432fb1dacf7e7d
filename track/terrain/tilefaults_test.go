package terrain

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"
)

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

// locked is a folder in which nothing can be opened, or nothing can be read.
type locked struct{ fs.FS }

func (l locked) Open(name string) (fs.File, error) {
	if name == "." || l.FS == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return l.FS.Open(name)
}

func TestFolderErrors(t *testing.T) {
	for name, c := range map[string]struct {
		folder fs.FS
		want   string
	}{
		"a folder for a tile": {fstest.MapFS{"N58E014.hgt/x": {}}, "N58E014.hgt: is not a file"},
		"no right":            {locked{}, "N58E014.hgt: can't be opened: open N58E014.hgt: permission denied"},
		"no right to list":    {locked{fstest.MapFS{}}, "folder of elevation tiles: open .: permission denied"},
		"control characters":  {fstest.MapFS{"\x1b]0;n58_e014.tif": {}}, "]0;n58_e014.tif: ends after 0 bytes, want 8: it is cut short; fetch it again"},
	} {
		if _, err := NewTiles(c.folder, TilesOptions{}).HeightM(58.5, 14.5); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	for _, err := range []interface{ Hint() string }{&VoidError{}, &MissingError{}, &TileError{Advice: "a"}} {
		if err.Hint() == "" {
			t.Errorf("%T says no way out", err)
		}
	}
}

package terrain

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"math"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"foreaim/track/internal/testtable"
)

// sayable fails on an error that is not a tile's, or can't be shown.
func sayable(t *testing.T, err error) {
	t.Helper()
	if err == nil {
		return
	}
	if !errors.As(err, new(*TileError)) && !errors.As(err, new(*VoidError)) || !strings.Contains(err.Error(), "N58E014") {
		t.Fatalf("%T %v", err, err)
	}
	if !testtable.Printable(err.Error()) {
		t.Fatalf("%q", err.Error())
	}
}

// unseekable is a folder whose files can be read from the start only.
type unseekable struct{ fs.FS }

type stream struct{ f fs.File }

func (u unseekable) Open(name string) (fs.File, error) {
	f, err := u.FS.Open(name)
	if err != nil || name == "." {
		return f, err
	}
	return stream{f}, nil
}

func (s stream) Stat() (fs.FileInfo, error)     { return s.f.Stat() }
func (s stream) Read(b []byte) (n int, e error) { return s.f.Read(b) }
func (s stream) Close() error                   { return s.f.Close() }

// Whatever the bytes are: heights that can be, or an error that names the file; the
// same when the file can be read from the start only.
func FuzzTIFF(f *testing.F) {
	for _, name := range []string{"int16_lzw_2", "int16_lzw_big", "int16_plain", "real32_deflate_3", "real32_lzw_2_big", "packbits", "projected", "bigtiff"} {
		f.Add(given(f, "tiff/"+name+".tif"))
	}
	f.Add(madeTIFF(14.01, 58.99, 0.02, 50, 50, true, tilted))
	f.Fuzz(func(t *testing.T, raw []byte) {
		folder := fstest.MapFS{"N58E014.tif": {Data: raw}}
		tiles, slow := NewTiles(folder, TilesOptions{CacheBytes: 1 << 20}), NewTiles(unseekable{folder}, TilesOptions{CacheBytes: 1})
		for _, p := range []Place{{58.5, 14.5}, {58.99999, 14.00001}, {58.00001, 14.99999}, {58.9, 14.07}} {
			got, err := tiles.HeightM(p.LatitudeDeg, p.LongitudeDeg)
			sayable(t, err)
			if err == nil && !(got >= lowestGroundM && got <= highestGroundM) {
				t.Fatal(got)
			}
			again, err2 := slow.HeightM(p.LatitudeDeg, p.LongitudeDeg)
			if (err == nil) != (err2 == nil) || got != again {
				t.Fatal(got, again, err, err2)
			}
		}
	})
}

// What is packed comes out again; whatever else is unpacked ends.
func FuzzLZW(f *testing.F) {
	f.Add([]byte("aaaaaaaaaaaaaaaabbbbabababab"))
	f.Add(bytes.Repeat([]byte{0, 1, 2, 3, 0, 7}, 3000))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, err := unpackLZW(packLZW(raw), len(raw))
		if err != nil || !bytes.Equal(got, raw) {
			t.Fatalf("%v: %d bytes, want %d", err, len(got), len(raw))
		}
		if len(raw) > 0 {
			if _, err := unpackLZW(packLZW(raw), len(raw)+1); err == nil {
				t.Fatal("unpacks to more than there was")
			}
		}
		if out, err := unpackLZW(raw, 5000); err == nil && len(out) != 5000 {
			t.Fatal(len(out))
		}
	})
}

// packLZW packs as TIFF 6.0, section 13, describes it.
func packLZW(raw []byte) []byte {
	var out []byte
	bits, have, width := uint64(0), 0, 9
	put := func(code int) {
		bits, have = bits<<width|uint64(code), have+width
		for ; have >= 8; have -= 8 {
			out = append(out, byte(bits>>(have-8)))
		}
	}
	table, next := map[string]int{}, lzwFirst
	put(lzwClear)
	word := ""
	code := func(w string) int {
		if len(w) == 1 {
			return int(w[0])
		}
		return table[w]
	}
	for _, c := range raw {
		longer := word + string([]byte{c})
		if _, there := table[longer]; there || len(longer) == 1 {
			word = longer
			continue
		}
		put(code(word))
		table[longer] = next
		next++
		switch next {
		case 512, 1024, 2048:
			width++
		case 4095:
			put(lzwClear)
			table, next, width = map[string]int{}, lzwFirst, 9
		}
		word = string([]byte{c})
	}
	if word != "" {
		put(code(word))
		if next++; next == 512 || next == 1024 || next == 2048 {
			width++
		}
	}
	put(lzwEnd)
	return append(out, byte(bits<<(8-have)))
}

// Plain and zipped tiles with the same bytes are the same ground, that of the bytes.
func FuzzHGT(f *testing.F) {
	f.Add([]byte{0, 1, 0, 2, 0x80, 0, 0xff, 0xff}, uint32(1234))
	f.Add([]byte("heights"), uint32(1201*1201-9))
	f.Fuzz(func(t *testing.T, some []byte, at uint32) {
		raw := make([]byte, 1201*1201*2)
		sample := int(at) % (1201 * 1201)
		copy(raw[2*sample:], some)
		plain := only("N58E014.hgt", raw)
		packed := only("N58E014.hgt.zip", zipped(t, map[string][]byte{"x/n58e014.HGT": raw}))
		row, col := sample/1201, sample%1201
		if row == 0 || col == 1200 { // the neighbour's
			return
		}
		lat, lon := 59-float64(row)/1200, 14+float64(col)/1200
		got, err := plain.HeightM(lat, lon)
		sayable(t, err)
		same, err2 := packed.HeightM(lat, lon)
		sayable(t, err2)
		if (err == nil) != (err2 == nil) || got != same {
			t.Fatal(got, same, err, err2)
		}
		if want := float64(int16(binary.BigEndian.Uint16(raw[2*sample:]))); err == nil && want >= lowestGroundM && want <= highestGroundM && math.Abs(got-want) > 1e-3*math.Abs(want)+0.1 {
			t.Fatal(got, want)
		}
	})
}

// Whatever the archive is: the tile that the standard library finds in it, or an
// error.
func FuzzZip(f *testing.F) {
	f.Add(given(f, "N58E014.hgt.zip"))
	f.Add(zipped(f, map[string][]byte{"N58E014.hgt": []byte("short"), "readme": nil}))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, err := only("N58E014.zip", raw).HeightM(58.25, 14.75)
		sayable(t, err)
		if err != nil {
			return
		}
		archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
		if err != nil {
			t.Fatal(err)
		}
		for _, packed := range archive.File {
			if !strings.EqualFold(path.Ext(packed.Name), ".hgt") {
				continue
			}
			r, err := packed.Open()
			if err != nil {
				t.Fatal(err)
			}
			all, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			plain, err := only("N58E014.hgt", all).HeightM(58.25, 14.75)
			if err != nil || plain != got {
				t.Fatal(plain, got, err)
			}
			return
		}
		t.Fatal("no tile, but a height")
	})
}

// A name that is taken leads to the same square by its own plain name.
func FuzzFileName(f *testing.F) {
	for _, name := range []string{"N58E014.hgt", "dem_s04_00_w062_00_x.tif", "n58e014.zip", "N99E999.hgt", "\x1bN58E014.hgt"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		s, ok := squareOf(name)
		if !ok {
			return
		}
		if again, ok := squareOf(s.String() + ".hgt"); !ok || again != s {
			t.Fatalf("%q: %v, %v", name, s, again)
		}
		flat := strings.ToUpper(strings.NewReplacer("_00", "", "_", "").Replace(name))
		if !strings.Contains(flat, s.String()) {
			// S00 and W000 are the same as N00 and E000.
			if s.south != 0 && s.west != 0 {
				t.Fatalf("%q gives %v", name, s)
			}
		}
	})
}

package terrain

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"
)

// given is testdata/terrain/tiff, written by GDAL 3.6.2: 70 by 70 pixels around
// 58° to 59° N, 14° to 15° E, the first on the north-west corner.
func given(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/terrain/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// only is the ground of one file.
func only(name string, raw []byte) *Tiles {
	return NewTiles(fstest.MapFS{name: {Data: raw}}, TilesOptions{})
}

// Every pixel is what was handed to the program that wrote the file.
func TestTIFFOfAnotherProgram(t *testing.T) {
	for name, add := range map[string]float64{
		"int16_plain": 0, "int16_lzw_2": 0, "int16_lzw_big": 0, "int16_deflate_point": 0,
		"real32_plain": 0.25, "real32_deflate_2": 0.25, "real32_deflate_3": 0.25, "real32_lzw_3": 0.25, "real32_lzw_2_big": 0.25,
	} {
		c := &cache{limit: 1 << 20}
		r, err := openTIFF(file{fstest.MapFS{"N58E014.tif": {Data: given(t, "tiff/"+name+".tif")}}, "N58E014.tif"}, square{58, 14}, c)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if r.cols != 70 || r.rows != 70 {
			t.Errorf("%s: %d by %d", name, r.cols, r.rows)
		}
		near(t, name+" west", r.westDeg, 14, 1e-12)
		near(t, name+" north", r.northDeg, 59, 1e-12)
		for row := range 70 {
			for col := range 70 {
				got, err := r.at(col, row)
				want := float64((col*37+row*53)%997-100) + add
				if col == 5 && row == 7 {
					want = math.NaN()
				}
				if err != nil || got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Fatalf("%s: column %d, row %d: %v, %v, want %v", name, col, row, got, err, want)
				}
			}
		}
	}
}

func TestTIFFRefuses(t *testing.T) {
	plain := given(t, "tiff/int16_plain.tif")
	for _, c := range []struct {
		name, file string
		raw        []byte
		want       string
	}{
		{"projection", "N58E014.tif", given(t, "tiff/projected.tif"), "N58E014.tif: is in a map projection, want latitude and longitude"},
		{"BigTIFF", "N58E014.tif", given(t, "tiff/bigtiff.tif"), "N58E014.tif: is BigTIFF; convert it to plain GeoTIFF"},
		{"bytes", "N58E014.tif", given(t, "tiff/byte.tif"), "N58E014.tif: has pixels of 8 bits in format 1, want 16-bit whole or 32-bit real numbers"},
		{"packing", "N58E014.tif", given(t, "tiff/packbits.tif"), "N58E014.tif: is packed by method 32773, want none, LZW (5) or deflate (8)"},
		{"wrong name", "N58E015.tif", plain, "N58E015.tif: covers latitude 58.0143 to 59.0000, longitude 14.0000 to 14.9857, its name says N58E015: a wrong name, or not a tile of one degree"},
		{"empty", "N58E014.tif", nil, "N58E014.tif: ends after 0 bytes, want 8: it is cut short; fetch it again"},
		{"text", "N58E014.tif", []byte("hello there"), `N58E014.tif: is not TIFF: it begins with "he"`},
		{"cut in the tags", "N58E014.tif", plain[:100], "N58E014.tif: ends after 100 bytes, want 214: it is cut short; fetch it again"},
		{"cut in the pixels", "N58E014.tif", plain[:len(plain)-300], "N58E014.tif: ends after 9892 bytes, want 10192: it is cut short; fetch it again"},
	} {
		tiles := only(c.file, c.raw)
		s, _ := squareOf(c.file)
		_, err := tiles.HeightM(float64(s.south)+0.03, float64(s.west)+0.5)
		if err == nil || err.Error() != c.want || !errors.As(err, new(*TileError)) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// A part that unpacks to too little is an error; one that says it unpacks to more
// is read as far as it is needed.
func TestTIFFDamagedParts(t *testing.T) {
	for _, name := range []string{"int16_lzw_big", "real32_deflate_3"} {
		raw := given(t, "tiff/"+name+".tif")
		damaged := bytes.Clone(raw)
		for i := 500; i < len(damaged); i += 7 {
			damaged[i] ^= 0x55
		}
		_, err := only("N58E014.tif", damaged).HeightM(58.5, 14.5)
		if err == nil || !strings.Contains(err.Error(), "N58E014.tif: ") || !errors.As(err, new(*TileError)) {
			t.Errorf("%s: %v, want an error that names the file", name, err)
		}
	}
}

// madeTIFF makes a plain TIFF of real numbers; big tells the order of bytes.
func madeTIFF(west, north, step float64, cols, rows int, big bool, height func(lat, lon float64) float64) []byte {
	var o binary.AppendByteOrder = binary.LittleEndian
	raw := []byte("II")
	if big {
		o, raw = binary.BigEndian, []byte("MM")
	}
	raw = o.AppendUint16(raw, 42)
	const head, entries = 8, 11
	data := head + 2 + 12*entries + 4
	scaleAt, tieAt, pixelsAt := data, data+24, data+24+48
	raw = o.AppendUint32(raw, head)
	raw = o.AppendUint16(raw, entries)
	entry := func(tag, kind uint16, count, value uint32) {
		raw = o.AppendUint16(o.AppendUint16(raw, tag), kind)
		raw = o.AppendUint32(raw, count)
		if kind == 3 && count == 1 {
			raw = o.AppendUint16(o.AppendUint16(raw, uint16(value)), 0)
			return
		}
		raw = o.AppendUint32(raw, value)
	}
	entry(tagWidth, 3, 1, uint32(cols))
	entry(tagHeight, 3, 1, uint32(rows))
	entry(tagBits, 3, 1, 32)
	entry(tagCompression, 3, 1, 1)
	entry(tagStripOffsets, 4, 1, uint32(pixelsAt))
	entry(tagSamples, 3, 1, 1)
	entry(tagRowsPerStrip, 3, 1, uint32(rows))
	entry(tagStripBytes, 4, 1, uint32(4*cols*rows))
	entry(tagSampleFormat, 3, 1, 3)
	entry(tagPixelScale, 12, 3, uint32(scaleAt))
	entry(tagTiePoints, 12, 6, uint32(tieAt))
	raw = o.AppendUint32(raw, 0)
	for _, v := range []float64{step, step, 0, 0, 0, 0, west - step/2, north + step/2, 0} {
		raw = o.AppendUint64(raw, math.Float64bits(v))
	}
	for row := range rows {
		for col := range cols {
			raw = o.AppendUint32(raw, math.Float32bits(float32(height(north-float64(row)*step, west+float64(col)*step))))
		}
	}
	return raw
}

// Numbers counted from 0, 500 for a void. The file is of GDAL 3.6.2, which made 0 of
// heights under it.
func TestTIFFCountedFromZero(t *testing.T) {
	r, err := openTIFF(file{fstest.MapFS{"N58E014.tif": {Data: given(t, "tiff/uint16_deflate_2.tif")}}, "N58E014.tif"}, square{58, 14}, &cache{limit: 1 << 20})
	if err != nil {
		t.Fatal(err)
	}
	voids := 0
	for row := range 70 {
		for col := range 70 {
			want := float64(max(0, (col*37+row*53)%997-100))
			got, err := r.at(col, row)
			switch {
			case err != nil:
				t.Fatal(err)
			case col == 5 && row == 7: // void in another way before
			case want == 500:
				voids++
				if !math.IsNaN(got) {
					t.Fatalf("column %d, row %d: %v, want a void", col, row, got)
				}
			case got != want:
				t.Fatalf("column %d, row %d: %v, want %v", col, row, got, want)
			}
		}
	}
	if voids == 0 {
		t.Error("no void to look at")
	}
}

// setTag gives the first value of a tag of madeTIFF's another value.
func setTag(raw []byte, tag, kind uint16, value uint32) []byte {
	raw = bytes.Clone(raw)
	for at := 10; ; at += 12 {
		if entry := raw[at:]; binary.LittleEndian.Uint16(entry) == tag {
			binary.LittleEndian.PutUint16(entry[2:], kind)
			binary.LittleEndian.PutUint32(entry[8:], value)
			return raw
		}
	}
}

func TestTIFFTags(t *testing.T) {
	good := madeTIFF(14, 59, 0.02, 51, 51, false, func(_, _ float64) float64 { return 12 })
	if got, err := only("N58E014.tif", good).HeightM(58.5, 14.5); err != nil || got != 12 {
		t.Fatal(got, err)
	}
	// Left out by the writer: nothing is known there.
	empty := setTag(setTag(good, tagStripOffsets, 4, 0), tagStripBytes, 4, 0)
	if _, err := only("N58E014.tif", empty).HeightM(58.5, 14.5); !errors.As(err, new(*VoidError)) {
		t.Error(err)
	}
	for _, c := range []struct {
		name string
		raw  []byte
		want string
	}{
		{"predictor", given(t, "tiff/real32_deflate_3_big.tif"), "has predictor 3 in big-endian order; convert it to little-endian"},
		{"width", setTag(good, tagWidth, 3, 1), "is 1 by 51 pixels, want 2 to 20000"},
		{"height", setTag(good, tagHeight, 4, 1<<31), "is 51 by 2147483648 pixels, want 2 to 20000"},
		{"colours", setTag(good, tagSamples, 3, 3), "has 3 values a pixel, want heights only"},
		{"strips", setTag(good, tagRowsPerStrip, 3, 10), "tells the place of 1 and the size of 1 parts, want 6"},
		{"no rows", setTag(good, tagRowsPerStrip, 3, 0), "has parts of 51 by 0 pixels"},
		{"short strip", setTag(good, tagStripBytes, 4, 100), "has a part 0 of 100 bytes, packed from 10404"},
		{"huge strip", setTag(good, tagStripBytes, 4, 1<<31), "has a part 0 of 2147483648 bytes, packed from 10404"},
		{"no scale", setTag(good, tagPixelScale, 7, 0), "is TIFF without a place on the Earth, want GeoTIFF"},
		{"scale", setTag(good, tagPixelScale, 12, 8), "has pixels of "},
		{"many values", bytes.Replace(good, []byte{0x0e, 0x83, 12, 0, 3, 0, 0, 0}, []byte{0x0e, 0x83, 12, 0, 0, 0, 0, 1}, 1), "says that tag 33550 has 16777216 values"},
		{"version", append([]byte("II\x07\x00"), good[4:]...), "is not TIFF: version 7, want 42"},
		{"many tags", append(append(bytes.Clone(good[:8]), 0xff, 0xff), good[10:]...), "says it has 65535 tags, want 512 at most"},
	} {
		_, err := only("N58E014.tif", c.raw).HeightM(58.5, 14.5)
		if err == nil || !strings.HasPrefix(err.Error(), "N58E014.tif: "+c.want) || !errors.As(err, new(*TileError)) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

package terrain

import (
	"encoding/binary"
	"io"
	"math"
)

// GeoTIFF, as far as public elevation data in latitude and longitude uses it:
// TIFF 6.0 with one sample a pixel (16-bit whole, or 16-bit counted from 0, or
// 32-bit real), in strips or tiles, plain, LZW or deflate, with the predictors 1
// to 3, placed by a scale and a point (OGC 19-008r4). The first image counts;
// overviews behind it are not looked at. The reader is our own because the Go
// module proxy has none that is kept up: golang.org/x/image/tiff knows neither
// real numbers nor the place.

// The tags of TIFF and GeoTIFF that are read.
const (
	tagWidth         = 256
	tagHeight        = 257
	tagBits          = 258
	tagCompression   = 259
	tagStripOffsets  = 273
	tagSamples       = 277
	tagRowsPerStrip  = 278
	tagStripBytes    = 279
	tagPredictor     = 317
	tagTileWidth     = 322
	tagTileHeight    = 323
	tagTileOffsets   = 324
	tagTileBytes     = 325
	tagSampleFormat  = 339
	tagPixelScale    = 33550
	tagTiePoints     = 33922
	tagTransform     = 34264
	tagGeoKeys       = 34735
	tagNoData        = 42113 // common practice: the value of a void, as text
	maxTIFFSide      = 20000
	maxTIFFBlock     = 64 << 20 // bytes, unpacked
	maxTIFFTags      = 512
	maxTIFFTagValues = 1 << 21
)

// tiffTags are the tags of one image, by number.
type tiffTags struct {
	file
	order  binary.ByteOrder
	values map[int]tiffValue
}

// tiffValue is a tag's value as it lies in the file.
type tiffValue struct {
	kind, count int
	raw         []byte
}

// tiffSizes are the bytes of a value by its kind.
var tiffSizes = map[int]int{1: 1, 2: 1, 3: 2, 4: 4, 12: 8}

// readTIFFTags reads the tags of the first image.
func readTIFFTags(f file, r io.ReaderAt, size int64) (*tiffTags, error) {
	head := make([]byte, 8)
	if err := f.readFull(r, head, 0); err != nil {
		return nil, err
	}
	t := &tiffTags{file: f, values: map[int]tiffValue{}}
	switch string(head[:2]) {
	case "II":
		t.order = binary.LittleEndian
	case "MM":
		t.order = binary.BigEndian
	default:
		return nil, f.fault(nil, "is not TIFF: it begins with %q", head[:2])
	}
	switch version := t.order.Uint16(head[2:]); version {
	case 42:
	case 43:
		return nil, f.fault(nil, "is BigTIFF; convert it to plain GeoTIFF")
	default:
		return nil, f.fault(nil, "is not TIFF: version %d, want 42", version)
	}
	at := int64(t.order.Uint32(head[4:]))
	count := make([]byte, 2)
	if err := f.readFull(r, count, at); err != nil {
		return nil, err
	}
	n := int(t.order.Uint16(count))
	if n > maxTIFFTags {
		return nil, f.fault(nil, "says it has %d tags, want %d at most", n, maxTIFFTags)
	}
	entries := make([]byte, 12*n)
	if err := f.readFull(r, entries, at+2); err != nil {
		return nil, err
	}
	for ; len(entries) > 0; entries = entries[12:] {
		tag, kind := int(t.order.Uint16(entries)), int(t.order.Uint16(entries[2:]))
		values := int64(t.order.Uint32(entries[4:]))
		width, known := tiffSizes[kind]
		if !known || !wantedTag(tag) {
			continue
		}
		if values > maxTIFFTagValues || values*int64(width) > size {
			return nil, f.fault(nil, "says that tag %d has %d values", tag, values)
		}
		v := tiffValue{kind, int(values), entries[8:12]}
		if length := int(values) * width; length > 4 {
			v.raw = make([]byte, length)
			if err := f.readFull(r, v.raw, int64(t.order.Uint32(entries[8:]))); err != nil {
				return nil, err
			}
		}
		t.values[tag] = v
	}
	return t, nil
}

func wantedTag(tag int) bool {
	switch tag {
	case tagWidth, tagHeight, tagBits, tagCompression, tagStripOffsets, tagSamples, tagRowsPerStrip, tagStripBytes, tagPredictor,
		tagTileWidth, tagTileHeight, tagTileOffsets, tagTileBytes, tagSampleFormat, tagPixelScale, tagTiePoints, tagTransform, tagGeoKeys, tagNoData:
		return true
	}
	return false
}

// wholes returns a tag's whole numbers; nil when it isn't there.
func (t *tiffTags) wholes(tag int) []int {
	v := t.values[tag]
	var all []int
	for i := range v.count {
		switch v.kind {
		case 3:
			all = append(all, int(t.order.Uint16(v.raw[2*i:])))
		case 4:
			all = append(all, int(t.order.Uint32(v.raw[4*i:])))
		}
	}
	return all
}

// whole returns a tag's first whole number.
func (t *tiffTags) whole(tag, without int) int {
	if all := t.wholes(tag); len(all) > 0 {
		return all[0]
	}
	return without
}

// reals returns a tag's real numbers.
func (t *tiffTags) reals(tag int) []float64 {
	v := t.values[tag]
	var all []float64
	if v.kind == 12 {
		for i := range v.count {
			all = append(all, math.Float64frombits(t.order.Uint64(v.raw[8*i:])))
		}
	}
	return all
}

// text returns a tag's text.
func (t *tiffTags) text(tag int) string {
	v := t.values[tag]
	if v.kind != 2 {
		return ""
	}
	return string(v.raw[:v.count])
}

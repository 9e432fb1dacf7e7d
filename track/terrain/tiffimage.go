package terrain

import (
	"encoding/binary"
	"io"
	"math"
	"strconv"
	"strings"
)

// tiffImage is how the pixels of a GeoTIFF are packed. A part is a strip or a
// tile of the file; a block holds one tile or several strips.
type tiffImage struct {
	file
	grid
	order          binary.ByteOrder
	sample         int // kind: sampleInt16 …
	compression    int
	predictor      int
	partCols       int
	partRows       int
	partsPerBlock  int
	offsets, sizes []int
	void           float64 // NaN: none told
}

// The kinds of samples.
const (
	sampleInt16 = iota
	sampleUint16
	sampleReal32
)

// tiffBlockRows is how many rows of strips are read at once, about.
const tiffBlockRows = 64

func openTIFF(f file, s square, c *cache) (*raster, error) {
	var image *tiffImage
	err := f.read(func(r io.ReaderAt, size int64) error {
		tags, err := readTIFFTags(f, r, size)
		if err != nil {
			return err
		}
		image, err = newTIFFImage(tags)
		return err
	})
	if err != nil {
		return nil, err
	}
	if !image.covers(s) {
		return nil, f.fault(nil, "covers %s, its name says %s: a wrong name, or not a tile of one degree", image.extent(), s)
	}
	return newRaster(f.name, image.grid, image, c), nil
}

// newTIFFImage checks that an image can be read.
func newTIFFImage(t *tiffTags) (*tiffImage, error) {
	m := &tiffImage{file: t.file, order: t.order, compression: t.whole(tagCompression, 1), predictor: t.whole(tagPredictor, 1), void: math.NaN()}
	m.cols, m.rows = t.whole(tagWidth, 0), t.whole(tagHeight, 0)
	if m.cols < 2 || m.rows < 2 || m.cols > maxTIFFSide || m.rows > maxTIFFSide {
		return nil, t.fault(nil, "is %d by %d pixels, want 2 to %d", m.cols, m.rows, maxTIFFSide)
	}
	if n := t.whole(tagSamples, 1); n != 1 {
		return nil, t.fault(nil, "has %d values a pixel, want heights only", n)
	}
	switch bits, format := t.whole(tagBits, 1), t.whole(tagSampleFormat, 1); [2]int{bits, format} {
	case [2]int{16, 2}:
		m.sample = sampleInt16
	case [2]int{16, 1}:
		m.sample = sampleUint16
	case [2]int{32, 3}:
		m.sample = sampleReal32
	default:
		return nil, t.fault(nil, "has pixels of %d bits in format %d, want 16-bit whole or 32-bit real numbers", bits, format)
	}
	switch m.compression {
	case 1, 5, 8, 32946:
	default:
		return nil, t.fault(nil, "is packed by method %d, want none, LZW (5) or deflate (8)", m.compression)
	}
	if m.predictor < 1 || m.predictor > 3 || m.predictor == 3 && m.sample != sampleReal32 {
		return nil, t.fault(nil, "has predictor %d with these pixels, want 1, 2 or, for real numbers, 3", m.predictor)
	}
	if m.predictor == 3 && m.order == binary.BigEndian {
		// Writers don't agree on the order of bytes there.
		return nil, t.fault(nil, "has predictor 3 in big-endian order; convert it to little-endian")
	}
	if text := strings.Trim(t.text(tagNoData), " \x00"); text != "" {
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			m.void = v
		}
	}
	if err := m.layParts(t); err != nil {
		return nil, err
	}
	return m, t.place(&m.grid)
}

// layParts finds the strips or tiles.
func (m *tiffImage) layParts(t *tiffTags) error {
	m.offsets, m.sizes = t.wholes(tagTileOffsets), t.wholes(tagTileBytes)
	if m.offsets != nil {
		m.partCols, m.partRows, m.partsPerBlock = t.whole(tagTileWidth, 0), t.whole(tagTileHeight, 0), 1
	} else {
		m.offsets, m.sizes = t.wholes(tagStripOffsets), t.wholes(tagStripBytes)
		m.partCols, m.partRows = m.cols, min(t.whole(tagRowsPerStrip, m.rows), m.rows)
		m.partsPerBlock = max(1, tiffBlockRows/max(1, m.partRows))
	}
	if m.partCols < 1 || m.partRows < 1 || m.partCols > maxTIFFSide || m.partRows > maxTIFFSide {
		return t.fault(nil, "has parts of %d by %d pixels", m.partCols, m.partRows)
	}
	m.blockCols, m.blockRows = m.partCols, m.partRows*m.partsPerBlock
	if bytes := m.blockCols * m.blockRows * m.sampleBytes(); bytes > maxTIFFBlock {
		return t.fault(nil, "has parts of %d bytes, want %d at most", bytes, maxTIFFBlock)
	}
	want := m.across() * ((m.rows + m.partRows - 1) / m.partRows)
	if len(m.offsets) != want || len(m.sizes) != want {
		return t.fault(nil, "tells the place of %d and the size of %d parts, want %d", len(m.offsets), len(m.sizes), want)
	}
	return nil
}

func (m *tiffImage) sampleBytes() int {
	if m.sample == sampleReal32 {
		return 4
	}
	return 2
}

// load reads one block.
func (m *tiffImage) load(i int, keep func(int, *block)) error {
	return m.read(func(r io.ReaderAt, _ int64) error {
		b := &block{}
		pixels := m.blockCols * m.blockRows
		if m.sample == sampleReal32 {
			b.real = make([]float32, 0, pixels)
		} else {
			b.whole = make([]int16, 0, pixels)
		}
		for n := range m.partsPerBlock {
			part := i*m.partsPerBlock + n
			if part >= len(m.offsets) {
				break
			}
			rows := m.partRows
			if m.partCols == m.cols { // the last strip is short
				rows = min(rows, m.rows-part*m.partRows)
			}
			raw, err := m.part(r, part, m.partCols*rows*m.sampleBytes())
			if err != nil {
				return err
			}
			m.decode(raw, m.partCols*rows, b)
		}
		keep(i, b)
		return nil
	})
}

// decode appends n pixels to a block; raw is nil where the file has none.
func (m *tiffImage) decode(raw []byte, n int, b *block) {
	for i := range n {
		v := math.NaN()
		switch {
		case raw == nil:
		case m.sample == sampleInt16:
			v = float64(int16(m.order.Uint16(raw[2*i:])))
		case m.sample == sampleUint16:
			v = float64(m.order.Uint16(raw[2*i:]))
		default:
			v = float64(math.Float32frombits(m.order.Uint32(raw[4*i:])))
		}
		if v == m.void {
			v = math.NaN()
		}
		v = believed(v)
		if m.sample == sampleReal32 {
			b.real = append(b.real, float32(v))
			continue
		}
		if math.IsNaN(v) {
			v = voidHeight
		}
		b.whole = append(b.whole, int16(v))
	}
}

package terrain

import (
	"archive/zip"
	"encoding/binary"
	"fmt"
	"io"
	"path"
	"strings"
)

// The layout of the shuttle radar mission's tiles: 1201 or 3601 rows of as many
// samples, north to south and west to east, each a big-endian 16-bit number of
// metres, -32768 for a void. Neighbours share the samples of their common edge.

// hgtBlockRows is how many rows are read at once: under a megabyte.
const hgtBlockRows = 128

// hgtSide returns how many samples a side has, by the size of the tile in bytes.
func hgtSide(size uint64) (int, bool) {
	for _, n := range []int{1201, 3601} {
		if size == uint64(n*n*2) {
			return n, true
		}
	}
	return 0, false
}

// hgtSizes says what would be right.
const hgtSizes = "want 2884802 (3 arc-seconds) or 25934402 (1 arc-second)"

func hgtGrid(s square, n int) grid {
	step := 1 / float64(n-1)
	return grid{
		northDeg: float64(s.south + 1), westDeg: float64(s.west), latStep: step, lonStep: step,
		cols: n, rows: n, blockCols: n, blockRows: hgtBlockRows,
	}
}

// hgtPlain is a tile as it is.
type hgtPlain struct {
	file
	side int
}

func openHGT(f file, s square, c *cache) (*raster, error) {
	side := 0
	err := f.read(func(_ io.ReaderAt, size int64) error {
		var ok bool
		if side, ok = hgtSide(uint64(size)); !ok {
			return f.fault(nil, "is %d bytes, %s; fetch it again", size, hgtSizes)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return newRaster(f.name, hgtGrid(s, side), hgtPlain{f, side}, c), nil
}

func (h hgtPlain) load(i int, keep func(int, *block)) error {
	return h.read(func(r io.ReaderAt, _ int64) error {
		first := i * hgtBlockRows
		raw := make([]byte, min(hgtBlockRows, h.side-first)*h.side*2)
		if err := h.readFull(r, raw, int64(first*h.side*2)); err != nil {
			return err
		}
		keep(i, hgtBlock(raw))
		return nil
	})
}

func hgtBlock(raw []byte) *block {
	b := &block{whole: make([]int16, len(raw)/2)}
	for i := range b.whole {
		b.whole[i] = believedWhole(int16(binary.BigEndian.Uint16(raw[2*i:])))
	}
	return b
}

// hgtZip is a tile packed with deflate. It can be read from its start only, so
// one block yields all.
type hgtZip struct {
	file
	square square
	side   int
}

// maxZip and maxZipFiles bound an archive of one tile, in bytes and files.
const (
	maxZip      = 64 << 20
	maxZipFiles = 100
)

func openHGTZip(f file, s square, c *cache) (*raster, error) {
	h := hgtZip{f, s, 0}
	err := f.read(func(r io.ReaderAt, size int64) error {
		packed, err := h.find(r, size)
		if err != nil {
			return err
		}
		h.side, _ = hgtSide(packed.UncompressedSize64)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return newRaster(f.name, hgtGrid(s, h.side), h, c), nil
}

// find returns the tile in an archive.
func (h hgtZip) find(r io.ReaderAt, size int64) (*zip.File, error) {
	if size > maxZip {
		return nil, h.fault(nil, "is %d bytes, want one packed tile, %d at most", size, maxZip)
	}
	archive, err := zip.NewReader(r, size)
	if err != nil {
		return nil, h.fault(err, "is no zip archive, or cut short; fetch it again")
	}
	if n := len(archive.File); n > maxZipFiles {
		return nil, h.fault(nil, "holds %d files, want one tile", n)
	}
	for _, packed := range archive.File {
		if !strings.EqualFold(path.Ext(packed.Name), ".hgt") {
			continue
		}
		if s, ok := squareOf(path.Base(packed.Name)); ok && s != h.square {
			return nil, h.fault(nil, "holds the tile %s, want %s; rename it", s, h.square)
		}
		if _, ok := hgtSide(packed.UncompressedSize64); !ok {
			return nil, h.fault(nil, "holds a tile of %d bytes, %s; fetch it again", packed.UncompressedSize64, hgtSizes)
		}
		return packed, nil
	}
	return nil, h.fault(nil, "holds no file whose name ends in .hgt")
}

func (h hgtZip) load(_ int, keep func(int, *block)) error {
	return h.read(func(r io.ReaderAt, size int64) error {
		packed, err := h.find(r, size)
		if err != nil {
			return err
		}
		if side, _ := hgtSide(packed.UncompressedSize64); side != h.side {
			return h.fault(nil, "has changed while it was in use; start again")
		}
		unpacked, err := packed.Open()
		if err != nil {
			return h.fault(err, "can't be unpacked")
		}
		defer unpacked.Close()
		raw := make([]byte, hgtBlockRows*h.side*2)
		var blocks []*block
		for first := 0; first < h.side; first += hgtBlockRows {
			part := raw[:min(hgtBlockRows, h.side-first)*h.side*2]
			if _, err := io.ReadFull(unpacked, part); err != nil {
				return h.fault(err, "can't be unpacked: damaged; fetch it again")
			}
			blocks = append(blocks, hgtBlock(part))
		}
		// The end tells the checksum, or that there is more than was said.
		if n, err := unpacked.Read(raw[:1]); n != 0 || err != io.EOF {
			return h.fault(nil, "can't be unpacked: %s; fetch it again", endFault(n, err))
		}
		for i, b := range blocks {
			keep(i, b)
		}
		return nil
	})
}

func endFault(n int, err error) string {
	if n > 0 || err == nil {
		return "more in it than it says"
	}
	return fmt.Sprint(err)
}

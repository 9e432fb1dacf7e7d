package terrain

import (
	"bytes"
	"compress/zlib"
	"io"
)

// part returns the pixels of a strip or a tile as bytes in the file's order,
// exactly want of them; nil where the file leaves it out: all void.
func (m *tiffImage) part(r io.ReaderAt, part, want int) ([]byte, error) {
	size, offset := m.sizes[part], m.offsets[part]
	if size == 0 && offset == 0 {
		return nil, nil
	}
	// What can't be packed grows by a little; more is nonsense. Where an int has 32
	// bits much more is negative.
	if size < 0 || size > 2*want+1024 || m.compression == 1 && size < want {
		return nil, m.fault(nil, "has a part %d of %d bytes, packed from %d", part, size, want)
	}
	packed := make([]byte, size)
	if err := m.readFull(r, packed, int64(offset)); err != nil {
		return nil, err
	}
	raw := packed
	var err error
	switch m.compression {
	case 1:
		raw = raw[:want]
	case 5:
		raw, err = unpackLZW(packed, want)
	default:
		raw, err = inflate(packed, want)
	}
	if err != nil {
		return nil, m.fault(err, "can't be unpacked, part %d: damaged; fetch it again", part)
	}
	m.unpredict(raw)
	return raw, nil
}

// inflate unpacks exactly want bytes; what follows is not looked at.
func inflate(packed []byte, want int) ([]byte, error) {
	z, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	defer z.Close()
	raw := make([]byte, want)
	_, err = io.ReadFull(z, raw)
	return raw, err
}

// unpredict turns differences along each row into values.
func (m *tiffImage) unpredict(raw []byte) {
	width := m.partCols * m.sampleBytes()
	for ; len(raw) >= width; raw = raw[width:] {
		row := raw[:width]
		switch {
		case m.predictor == 2 && m.sample == sampleReal32:
			for i := 4; i < width; i += 4 {
				m.order.PutUint32(row[i:], m.order.Uint32(row[i:])+m.order.Uint32(row[i-4:]))
			}
		case m.predictor == 2:
			for i := 2; i < width; i += 2 {
				m.order.PutUint16(row[i:], m.order.Uint16(row[i:])+m.order.Uint16(row[i-2:]))
			}
		case m.predictor == 3:
			// Adobe Photoshop TIFF Technical Note 3: the bytes of all samples, the
			// highest of each first, then differences from byte to byte.
			for i := 1; i < width; i++ {
				row[i] += row[i-1]
			}
			planes := append([]byte(nil), row...)
			for i := range m.partCols {
				v := uint32(planes[i])<<24 | uint32(planes[i+m.partCols])<<16 | uint32(planes[i+2*m.partCols])<<8 | uint32(planes[i+3*m.partCols])
				m.order.PutUint32(row[4*i:], v)
			}
		}
	}
}

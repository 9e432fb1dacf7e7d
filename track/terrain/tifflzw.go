package terrain

import "errors"

// LZW as in TIFF 6.0, section 13: codes of 9 to 12 bits, the highest bit first,
// one code sooner wider than elsewhere (so compress/lzw can't read it).
const (
	lzwClear   = 256
	lzwEnd     = 257
	lzwFirst   = 258
	lzwLargest = 4096
)

var errLZW = errors.New("LZW: a code that was not told before")

// unpackLZW unpacks exactly want bytes; what follows is not looked at.
func unpackLZW(packed []byte, want int) ([]byte, error) {
	// A code stands for a stretch of what is unpacked already: what an earlier
	// code stood for and one byte more.
	var start, length [lzwLargest]int
	out := make([]byte, 0, want)
	next, width := lzwFirst, 9
	last := -1 // the code before; -1 after a clear
	lastAt := 0
	var bits uint32
	have := 0
	for len(out) < want {
		for ; have < width; have += 8 {
			if len(packed) == 0 {
				return nil, errors.New("LZW: cut short")
			}
			bits = bits<<8 | uint32(packed[0])
			packed = packed[1:]
		}
		have -= width
		code := int(bits >> have & (1<<width - 1))
		switch {
		case code == lzwEnd:
			return nil, errors.New("LZW: ends too soon")
		case code == lzwClear:
			next, width, last = lzwFirst, 9, -1
			continue
		case last < 0 && code > lzwEnd, code > next, code == next && next == lzwLargest:
			return nil, errLZW
		}
		at := len(out)
		if last >= 0 && next < lzwLargest {
			start[next], length[next] = lastAt, at-lastAt+1
			next++
		}
		if code < lzwClear {
			out = append(out, byte(code))
		} else {
			if code >= next {
				return nil, errLZW
			}
			// Byte by byte: the stretch may reach into what is being written.
			for i := range min(length[code], want-at) {
				out = append(out, out[start[code]+i])
			}
		}
		last, lastAt = code, at
		if next >= 1<<width-1 && width < 12 {
			width++
		}
	}
	return out, nil
}

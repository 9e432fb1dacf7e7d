package landscape

import (
	"encoding/binary"
	"math"
)

// Tile returns the elevation tile of a square of one degree, by its south-west
// corner, in the layout of .hgt: samples rows of as many, 1201 or 3601, rounded to
// metres. NaN becomes a void.
func Tile(s Shape, south, west, samples int) []byte {
	raw := make([]byte, 0, samples*samples*2)
	step := 1 / float64(samples-1)
	for row := range samples {
		lat := float64(south+1) - float64(row)*step
		for col := range samples {
			h := s(lat, float64(west)+float64(col)*step)
			v := int16(math.MinInt16)
			if !math.IsNaN(h) {
				v = int16(min(max(math.Round(h), -math.MaxInt16), math.MaxInt16))
			}
			raw = binary.BigEndian.AppendUint16(raw, uint16(v))
		}
	}
	return raw
}

package terrain

import (
	"math"
	"sync/atomic"
)

// block is a part of a tile that is read at once: whole metres or not. It holds
// only heights that are believed.
type block struct {
	whole []int16      // voidHeight: not known
	real  []float32    // NaN: not known
	used  atomic.Int64 // the cache's clock when it was last used
}

// voidHeight stands for a height that is not known, as in .hgt tiles.
const voidHeight = math.MinInt16

// The heights in metres that are believed; what is outside stands for a void in
// some tiles, or counts as one.
const (
	lowestGroundM  = -1000
	highestGroundM = 9500
)

// at returns a sample; NaN: not known.
func (b *block) at(i int) float64 {
	if b.whole == nil {
		return float64(b.real[i])
	}
	if b.whole[i] == voidHeight {
		return math.NaN()
	}
	return float64(b.whole[i])
}

// believed returns a height, or NaN for one that can't be.
func believed(v float64) float64 {
	if v >= lowestGroundM && v <= highestGroundM {
		return v
	}
	return math.NaN()
}

// believedWhole is the same for whole metres.
func believedWhole(v int16) int16 {
	if v >= lowestGroundM && v <= highestGroundM {
		return v
	}
	return voidHeight
}

// bytes returns what a block takes up.
func (b *block) bytes() int64 { return int64(len(b.whole))*2 + int64(len(b.real))*4 }

package terrain

import (
	"math"
	"sync"
	"sync/atomic"
)

// grid is where the samples of a tile lie: rows from north to south, in each
// from west to east.
type grid struct {
	northDeg, westDeg    float64 // of the first sample
	latStep, lonStep     float64 // degrees, positive
	cols, rows           int     // 2 or more
	blockCols, blockRows int     // of a block: how many columns and rows
}

// across returns how many blocks lie side by side.
func (g grid) across() int { return (g.cols + g.blockCols - 1) / g.blockCols }

// down returns how many rows of blocks there are.
func (g grid) down() int { return (g.rows + g.blockRows - 1) / g.blockRows }

// xy returns a place as column and row, not bounded.
func (g grid) xy(latitudeDeg, longitudeDeg float64) (x, y float64) {
	return wrap180(longitudeDeg-g.westDeg) / g.lonStep, (g.northDeg - latitudeDeg) / g.latStep
}

// source reads blocks. Reading one may yield others; each is given to keep.
type source interface {
	load(i int, keep func(i int, b *block)) error
}

// raster is a tile whose blocks are read when they are needed.
type raster struct {
	grid
	file   string
	source source
	cache  *cache
	mu     sync.Mutex // held while reading
	blocks []atomic.Pointer[block]
}

func newRaster(file string, g grid, s source, c *cache) *raster {
	return &raster{grid: g, file: file, source: s, cache: c, blocks: make([]atomic.Pointer[block], g.across()*g.down())}
}

// block returns a block, read if need be.
func (r *raster) block(i int) (*block, error) {
	if b := r.blocks[i].Load(); b != nil {
		r.cache.touch(b)
		return b, nil
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if b := r.blocks[i].Load(); b != nil {
		return b, nil
	}
	var wanted *block
	now := r.cache.clock.Add(1)
	err := r.source.load(i, func(j int, b *block) {
		if j == i { // the others go first when memory runs short
			wanted = b
			b.used.Store(now)
		}
		r.cache.add(r, j, b)
	})
	if err != nil {
		return nil, err
	}
	return wanted, nil
}

// at returns a sample; NaN: not known.
func (r *raster) at(col, row int) (float64, error) {
	b, err := r.block(row/r.blockRows*r.across() + col/r.blockCols)
	if err != nil {
		return 0, err
	}
	return b.at(row%r.blockRows*r.blockCols + col%r.blockCols), nil
}

// height returns the height between samples, straight along both axes. x and y
// are taken to the edge when they are outside.
func (r *raster) height(x, y float64) (float64, error) {
	x, y = min(max(x, 0), float64(r.cols-1)), min(max(y, 0), float64(r.rows-1))
	col, row := min(int(x), r.cols-2), min(int(y), r.rows-2)
	fx, fy := x-float64(col), y-float64(row)
	inCol, inRow := col%r.blockCols, row%r.blockRows
	if inCol+1 < r.blockCols && inRow+1 < r.blockRows {
		b, err := r.block(row/r.blockRows*r.across() + col/r.blockCols)
		if err != nil {
			return 0, err
		}
		i := inRow*r.blockCols + inCol
		j := i + r.blockCols
		v := (b.at(i)*(1-fx)+b.at(i+1)*fx)*(1-fy) + (b.at(j)*(1-fx)+b.at(j+1)*fx)*fy
		if v == v { // not NaN
			return v, nil
		}
	}
	return r.heightAround(col, row, fx, fy)
}

// heightAround is height where the four samples are in several blocks or some
// are not known. Those that don't count are not asked for.
func (r *raster) heightAround(col, row int, fx, fy float64) (float64, error) {
	sum := 0.0
	for _, c := range []struct {
		col, row int
		weight   float64
	}{
		{col, row, (1 - fx) * (1 - fy)}, {col + 1, row, fx * (1 - fy)},
		{col, row + 1, (1 - fx) * fy}, {col + 1, row + 1, fx * fy},
	} {
		if c.weight == 0 {
			continue
		}
		v, err := r.at(c.col, c.row)
		if err == nil && math.IsNaN(v) {
			v, err = r.filled(c.col, c.row)
		}
		if err != nil {
			return 0, err
		}
		sum += c.weight * v
	}
	return sum, nil
}

// A void is filled where it is narrow and the ground on both sides is alike.
const (
	widestVoid   = 3    // samples
	steepestVoid = 50.0 // metres from one side to the other
)

// filled returns what a sample that is not known must be, from its row and its
// column, straight across the void; the narrower counts more. Common practice, no
// source. The error is a *VoidError where that is not safe.
func (r *raster) filled(col, row int) (float64, error) {
	sum, weights := 0.0, 0.0
	for _, dir := range [][2]int{{1, 0}, {0, 1}} {
		var ends, far [2]float64
		for side, sign := range []int{-1, 1} {
			ends[side] = math.NaN()
			for n := 1; n <= widestVoid && math.IsNaN(ends[side]); n++ {
				c, w := col+sign*n*dir[0], row+sign*n*dir[1]
				if c < 0 || w < 0 || c >= r.cols || w >= r.rows {
					break
				}
				v, err := r.at(c, w)
				if err != nil {
					return 0, err
				}
				ends[side], far[side] = v, float64(n)
			}
		}
		span := far[0] + far[1]
		if span <= widestVoid+1 && math.Abs(ends[0]-ends[1]) <= steepestVoid { // false for NaN
			sum += (ends[0]*far[1] + ends[1]*far[0]) / span / span
			weights += 1 / span
		}
	}
	if weights == 0 {
		return 0, &VoidError{r.file, r.northDeg - float64(row)*r.latStep, r.westDeg + float64(col)*r.lonStep}
	}
	return sum / weights, nil
}

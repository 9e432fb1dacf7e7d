package terrain

import (
	"sync"
	"sync/atomic"
)

// cache bounds the memory of all blocks of all tiles.
type cache struct {
	limit int64 // bytes
	clock atomic.Int64

	mu    sync.Mutex
	bytes int64
	held  []slot
}

// slot is where a block hangs.
type slot struct {
	tile *raster
	i    int
}

func (s slot) block() *block { return s.tile.blocks[s.i].Load() }

// touch notes that a block is in use. It writes only once between two loads, so
// that readers on several processors don't fight for the line.
func (c *cache) touch(b *block) {
	if now := c.clock.Load(); b.used.Load() != now {
		b.used.Store(now)
	}
}

// add hangs a block up, and drops those unused for longest while there is too
// much. Whoever still reads a dropped one keeps it alive.
func (c *cache) add(tile *raster, i int, b *block) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if tile.blocks[i].Load() != nil {
		return
	}
	tile.blocks[i].Store(b)
	c.held = append(c.held, slot{tile, i})
	c.bytes += b.bytes()
	for c.bytes > c.limit && len(c.held) > 1 {
		oldest := 0
		for j, s := range c.held {
			if s.block().used.Load() < c.held[oldest].block().used.Load() {
				oldest = j
			}
		}
		s := c.held[oldest]
		c.bytes -= s.block().bytes()
		s.tile.blocks[s.i].Store(nil)
		last := len(c.held) - 1
		c.held[oldest] = c.held[last]
		c.held = c.held[:last]
	}
}

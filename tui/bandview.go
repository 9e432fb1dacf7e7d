package tui

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"foreaim/track/radio"
)

// The rows of the band.
const (
	leastBand    = 4 // without levels
	middlingBand = 8
	mostBand     = 12
)

// band is the part of the spectrum that is shown, at a place of the canvas.
type band struct {
	lowMHz, highMHz float64
	x, columns      int
}

// bandOf is a band with all that is known in it.
func bandOf(g *gathered, x, columns int) band {
	b := band{math.Inf(1), math.Inf(-1), x, columns}
	take := func(low, high float64) { b.lowMHz, b.highMHz = min(b.lowMHz, low), max(b.highMHz, high) }
	if mhz := g.Link.MHz(); mhz > 0 {
		take(mhz, mhz)
	}
	for _, t := range g.Incoming {
		take(t.LowMHz, t.HighMHz)
	}
	for _, p := range g.Seen.Peaks {
		take(p.LowMHz, p.HighMHz)
	}
	for _, w := range g.Seen.Sweeps {
		if n := len(w.Points); n > 0 {
			take(w.Points[0].MHz, w.Points[n-1].MHz)
		}
	}
	edge := max((b.highMHz-b.lowMHz)*0.03, 1)
	b.lowMHz, b.highMHz = b.lowMHz-edge, b.highMHz+edge
	return b
}

// column is where a frequency is drawn, from 0.
func (b band) column(mhz float64) int {
	return max(0, min(int((mhz-b.lowMHz)/(b.highMHz-b.lowMHz)*float64(b.columns)), b.columns-1))
}

// levels returns the strongest level that was seen in each column, NaN where
// nobody looked, and what lies below all of them.
func (b band) levels(g *gathered) (levels []float64, floor, top float64) {
	levels = make([]float64, b.columns)
	for i := range levels {
		levels[i] = math.NaN()
	}
	floor, top = math.Inf(1), math.Inf(-1)
	put := func(i int, level float64) {
		if math.IsNaN(levels[i]) || level > levels[i] {
			levels[i] = level
		}
		floor, top = min(floor, level), max(top, level)
	}
	for _, w := range g.Seen.Sweeps[:min(1, len(g.Seen.Sweeps))] {
		for _, p := range w.Points {
			put(b.column(p.MHz), p.Level)
		}
	}
	if len(g.Seen.Sweeps) == 0 {
		for _, one := range g.signals {
			for i := b.column(one.LowMHz); i <= b.column(one.HighMHz); i++ {
				put(i, one.Level)
			}
		}
		floor -= 10 // a peak stands out of a floor that nobody wrote down
	}
	return levels, floor, top
}

// drawBand draws the band: what was seen, the transmitters by their letters, the
// beacon, the channels, the frequencies.
func drawBand(c *canvas, g *gathered, list []radio.Severity, x, y, rows int) {
	b := bandOf(g, x, c.columns-x-1)
	if b.columns < 10 || !(b.highMHz > b.lowMHz) || rows < leastBand {
		return
	}
	levels, floor, top := b.levels(g)
	words := y + rows - 1
	axis := words - 1
	letters := axis - 1
	channels, all := letters-1, g.named(list)
	if len(all) == 0 {
		channels++
	}
	if high := channels - y; top > floor && high > 0 {
		b.drawLevels(c, levels, floor, top, y, high)
		c.right(x-1, y, plain, fmt.Sprintf("%.0f %s", top, g.Seen.Unit()))
	}
	for i := len(list) - 1; i >= 0; i-- {
		for k := b.column(list[i].LowMHz); k <= b.column(list[i].HighMHz); k++ {
			c.set(x+k, letters, plain, letterOf(i))
		}
	}
	c.text(1, axis, plain, "Band")
	for k := range b.columns {
		c.set(x+k, axis, horizon, c.glyphs.ground)
	}
	end := -1
	name := func(low, high float64, text string) {
		at := x + (b.column(low)+b.column(high))/2 - cells(text)/2
		if text != "" && at > end && at+cells(text) < c.columns {
			end = c.text(at, channels, plain, text)
		}
	}
	for _, n := range all {
		name(n.lowMHz, n.highMHz, n.text)
	}
	for _, t := range list {
		for _, mhz := range [...]float64{t.LowMHz, t.HighMHz} {
			c.set(x+b.column(mhz), axis, horizon, c.glyphs.tick)
		}
	}
	if mhz := g.Link.MHz(); mhz > 0 {
		c.set(x+b.column(mhz), axis, strong, c.glyphs.ahead)
	}
	ends := fmt.Sprintf("%.0f MHz", b.highMHz)
	c.text(x, words, horizon, fmt.Sprintf("%.0f", b.lowMHz))
	c.right(c.columns-1, words, horizon, ends)
	c.text(x+6, words, plain, c.fit(b.columns-8-cells(ends), g.bandWords(c, len(all) > 0)...))
}

// drawLevels draws bars from a floor on.
func (b band) drawLevels(c *canvas, levels []float64, floor, top float64, y, rows int) {
	for i, level := range levels {
		if math.IsNaN(level) {
			continue
		}
		filled := (level-floor)/(top-floor)*(float64(rows)-0.5) + 0.25
		c.column(b.x+i, y+rows-1, rows, filled, land, c.glyphs.full, c.glyphs.half)
	}
}

// named is a channel that something is in.
type named struct {
	lowMHz, highMHz float64
	text            string
}

// named returns the channels that transmitters and what was seen fill, by
// frequency.
func (g *gathered) named(list []radio.Severity) []named {
	var all []named
	add := func(low, high float64, text string) {
		if text != "" && !slices.ContainsFunc(all, func(n named) bool { return n.text == text }) {
			all = append(all, named{low, high, text})
		}
	}
	for _, t := range list {
		add(t.LowMHz, t.HighMHz, g.channels[t.Transmitter])
	}
	for _, one := range g.signals {
		add(one.LowMHz, one.HighMHz, one.name)
	}
	slices.SortStableFunc(all, func(a, b named) int { return cmp.Compare(a.lowMHz, b.lowMHz) })
	return all
}

// bandWords explain the signs and say what was seen, from the fullest to the
// shortest; some channels are named.
func (g *gathered) bandWords(c *canvas, some bool) []string {
	beacon := string(c.glyphs.ahead) + " beacon"
	if some {
		beacon += ", numbers are channels"
	}
	if len(g.signals) == 0 {
		if len(g.Seen.Peaks) == 0 && len(g.Seen.Sweeps) == 0 {
			return []string{beacon + "; nothing seen yet: --seen FILE", beacon, string(c.glyphs.ahead) + " beacon"}
		}
		return []string{beacon + "; nothing stood out", beacon, string(c.glyphs.ahead) + " beacon"}
	}
	ghosts := 0
	for _, one := range g.signals {
		if one.Drop != nil && one.Drop.Origin == radio.InReceiver {
			ghosts++
		}
	}
	seen := fmt.Sprintf("; %d seen", len(g.signals))
	full := seen
	if ghosts > 0 {
		full += fmt.Sprintf(", %d of them made in the receiver", ghosts)
	}
	return []string{beacon + full, beacon + seen, strings.TrimPrefix(seen, "; "), string(c.glyphs.ahead) + " beacon"}
}

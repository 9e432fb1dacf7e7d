package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// The size of the plot of a pass, in characters.
const (
	plotColumns = 64
	plotRows    = 13
)

// plotWords says what the plot shows.
func (r reception) plotWords() string {
	if len(r.chains) == 1 {
		return "all that it may be, and its middle."
	}
	return "the middle of what it may be."
}

// plot draws each chain's margin for hearing along the pass, in ASCII. Where two
// chains fall together a star stands; a single one's range is shown too.
func (r reception) plot(sys system) string {
	low, high := 0.0, 0.0
	curves := make([][]float64, len(r.chains))
	var most, least []float64
	if len(r.chains) == 1 {
		most = r.curve(func(n int) float64 { return r.chains[0].level(n).HearingMarginDB.High })
		least = r.curve(func(n int) float64 { return r.chains[0].level(n).HearingMarginDB.Low })
		low, high = min(low, slices.Min(least)), max(high, slices.Max(most))
	}
	for i, c := range r.chains {
		curves[i] = r.curve(func(n int) float64 { return c.level(n).HearingMarginDB.Mid() })
		for _, db := range curves[i] {
			low, high = min(low, db), max(high, db)
		}
	}
	step := max(math.Ceil((high-low)/(plotRows-1)), 1)
	top := math.Ceil(high/step) * step
	grid := make([][]byte, plotRows+1) // rounding up may take one more
	for y := range grid {
		fill := " "
		if top-float64(y)*step == 0 {
			fill = "-"
		}
		grid[y] = []byte(strings.Repeat(fill, plotColumns))
	}
	row := func(db float64) int { return int(math.Round((top - db) / step)) }
	for x := range most {
		for y := row(most[x]); y <= row(least[x]); y++ {
			if grid[y][x] == ' ' {
				grid[y][x] = ':'
			}
		}
	}
	for i, curve := range curves {
		for x, db := range curve {
			cell := &grid[row(db)][x]
			if strings.IndexByte(" -:", *cell) >= 0 {
				*cell = letter(i)[0]
			} else {
				*cell = '*'
			}
		}
	}
	var b strings.Builder
	for y, row := range grid {
		fmt.Fprintf(&b, "%5.0f |%s\n", top-float64(y)*step+0, strings.TrimRight(string(row), " "))
	}
	fmt.Fprintf(&b, "      +%s\n", r.burstLine())
	first, last := r.samples[0].Time, r.samples[len(r.samples)-1].Time
	clock := func(t time.Time) string { return t.Round(time.Second).In(sys.local).Format(time.TimeOnly) }
	gap := plotColumns - 3*len(time.TimeOnly)
	fmt.Fprintf(&b, "       %s%*s%s%*s%s\n", clock(first), gap/2, "", clock(first.Add(last.Sub(first)/2)), gap-gap/2, "", clock(last))
	return b.String()
}

// column is where a moment stands in the plot.
func (r reception) column(at time.Time) int {
	first, last := r.samples[0].Time, r.samples[len(r.samples)-1].Time
	if last.Equal(first) {
		return 0
	}
	return int(math.Round(float64(plotColumns-1) * float64(at.Sub(first)) / float64(last.Sub(first))))
}

// burstLine marks the bursts along the time.
func (r reception) burstLine() string {
	line := []byte(strings.Repeat("-", plotColumns))
	for _, s := range r.samples {
		if s.known {
			line[r.column(s.Time)] = '|'
		}
	}
	return string(line)
}

// curve returns a value for each column, by straight lines between the samples.
func (r reception) curve(value func(sample int) float64) []float64 {
	values := make([]float64, plotColumns)
	first, last := r.samples[0].Time, r.samples[len(r.samples)-1].Time
	n := 0
	for x := range values {
		at := first.Add(time.Duration(float64(last.Sub(first)) * float64(x) / (plotColumns - 1)))
		for n+2 < len(r.samples) && !r.samples[n+1].Time.After(at) {
			n++
		}
		values[x] = value(n)
		if n+1 < len(r.samples) {
			if span := r.samples[n+1].Time.Sub(r.samples[n].Time); span > 0 {
				share := float64(at.Sub(r.samples[n].Time)) / float64(span)
				values[x] += share * (value(n+1) - value(n))
			}
		}
	}
	return values
}

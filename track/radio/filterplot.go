package radio

import (
	"fmt"
	"math"
	"strings"
)

// ResponsePoint is what a stage takes off at a frequency.
type ResponsePoint struct {
	MHz    float64
	LossDB Range
}

// Sample returns a response at n frequencies (2 or more) from low to high, each
// higher than the last by the same ratio.
func Sample(r Response, lowMHz, highMHz float64, n int) []ResponsePoint {
	points := make([]ResponsePoint, max(n, 2))
	for i := range points {
		mhz := lowMHz * math.Pow(highMHz/lowMHz, float64(i)/float64(len(points)-1))
		points[i] = ResponsePoint{mhz, r.LossDB(mhz)}
	}
	return points
}

// PlotMark is a band that is marked below a plot by a sign.
type PlotMark struct {
	LowMHz, HighMHz float64
	Sign            byte // printable ASCII
}

const (
	plotMargin = 6 // columns for the decibels
	plotTicks  = 4 // spans between frequencies
)

// Plot draws a response in characters: columns wide and rows high, of the plot
// itself, from no loss at the top to mostDB at the bottom. A star is the loss; a
// column of colons is all that it may be. Below stand the marks and frequencies.
// All is ASCII; a line is columns + 6 wide at most. It takes 20 columns and 4 rows
// or more.
func Plot(r Response, lowMHz, highMHz, mostDB float64, columns, rows int, marks []PlotMark) []string {
	columns, rows = max(columns, 20), max(rows, 4)
	grid := make([][]byte, rows)
	for i := range grid {
		grid[i] = []byte(strings.Repeat(" ", columns))
	}
	row := func(db float64) int { return int(math.Round(min(max(db/mostDB, 0), 1) * float64(rows-1))) }
	points := Sample(r, lowMHz, highMHz, columns)
	for x, p := range points {
		for y := row(p.LossDB.Low); y <= row(p.LossDB.High); y++ {
			grid[y][x] = ':'
		}
		if row(p.LossDB.Low) == row(p.LossDB.High) {
			grid[row(p.LossDB.Low)][x] = '*'
		}
	}
	lines := make([]string, 0, rows+2)
	for y, cells := range grid {
		label := ""
		if y%2 == 0 || y == rows-1 {
			label = fmt.Sprintf("%.0f", mostDB*float64(y)/float64(rows-1))
		}
		lines = append(lines, strings.TrimRight(fmt.Sprintf("%*s |%s", plotMargin-2, label, cells), " "))
	}
	return append(lines, markLine(points, marks), frequencyLine(points))
}

// markLine writes a sign under each column that is nearer to a band than half a
// column.
func markLine(points []ResponsePoint, marks []PlotMark) string {
	half := math.Sqrt(points[1].MHz / points[0].MHz)
	line := []byte(strings.Repeat("-", len(points)))
	for x, p := range points {
		for _, m := range marks {
			if p.MHz*half >= m.LowMHz && p.MHz/half <= m.HighMHz {
				line[x] = m.Sign
			}
		}
	}
	return fmt.Sprintf("%*s +%s", plotMargin-2, "dB", line)
}

// frequencyLine writes the frequencies of some columns, each under its own.
func frequencyLine(points []ResponsePoint) string {
	line := []byte(fmt.Sprintf("%*s", plotMargin-2, "MHz") + strings.Repeat(" ", len(points)+2))
	for i := range plotTicks + 1 {
		x := i * (len(points) - 1) / plotTicks
		text := fmt.Sprintf("%.0f", points[x].MHz)
		at := min(max(plotMargin+x-len(text)/2, plotMargin-1), len(line)-len(text))
		copy(line[at:], text)
	}
	return strings.TrimRight(string(line), " ")
}

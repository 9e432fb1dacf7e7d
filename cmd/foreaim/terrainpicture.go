package main

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track/terrain"
)

// The signs of a picture of the ground.
type groundSigns struct{ line, hidden, zone rune }

var (
	unicodeSigns = groundSigns{'─', '░', '·'}
	asciiSigns   = groundSigns{'-', ':', '.'}
)

const (
	vistaColumns = 70
	vistaRows    = 14
)

// picture draws the ground from here, on the left, to the transmitter, with the
// line between the antennas and the lower edge of the room that the wave needs.
// The ground is raised by the bent Earth, as the line is straight.
func (v vista) picture(unicode bool) string {
	signs := asciiSigns
	if unicode {
		signs = unicodeSigns
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range v.section {
		low, high = min(low, p.GroundM), max(high, p.GroundM, p.LineM)
	}
	perRow := max((high-low)/(vistaRows-1), 1)
	low -= perRow // so that the lowest ground is drawn
	columns := v.columns()
	row := func(m float64) int { return int(math.Floor((m - low) / perRow)) }
	var b strings.Builder
	for r := vistaRows; r >= 0; r-- {
		line := make([]rune, len(columns))
		for i, c := range columns {
			line[i] = filled((c.GroundM-low)/perRow-float64(r), unicode)
			switch r {
			case row(c.LineM):
				line[i] = signs.line
				if c.GroundM > c.LineM {
					line[i] = signs.hidden
				}
			case row(c.LineM - c.FresnelM):
				if line[i] == ' ' {
					line[i] = signs.zone
				}
			}
		}
		label := ""
		if r%2 == 0 {
			label = fmt.Sprintf("%.0f m", low+(float64(r)+0.5)*perRow)
		}
		b.WriteString(strings.TrimRight(fmt.Sprintf("%7s %s", label, string(line)), " ") + "\n")
	}
	end := fmt.Sprintf("%.1f km", v.way.LengthKm())
	fmt.Fprintf(&b, "%7s 0%*s\n", "", vistaColumns-1, end)
	fmt.Fprintf(&b, "%7s %c antenna to antenna, %c behind ground, %c the room that the wave needs\n", "", signs.line, signs.hidden, signs.zone)
	return b.String()
}

// columns is the section with one point a column, the highest ground of each.
func (v vista) columns() []terrain.SectionPoint {
	n := len(v.section)
	columns := make([]terrain.SectionPoint, vistaColumns)
	for i := range columns {
		from, to := i*n/vistaColumns, max((i+1)*n/vistaColumns, i*n/vistaColumns+1)
		columns[i] = v.section[(from+to)/2]
		for _, p := range v.section[from:to] {
			columns[i].GroundM = max(columns[i].GroundM, p.GroundM)
		}
	}
	return columns
}

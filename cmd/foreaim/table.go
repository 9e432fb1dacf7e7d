package main

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// table is rows under headings. Columns are as wide as their widest cell.
type table struct {
	headings []string
	rows     [][]string
	gap      string // between two columns
}

// newTable starts a table. A heading that begins with ">" is of a column of
// numbers, which stand to the right.
func newTable(headings ...string) *table { return &table{headings: headings, gap: "  "} }

func (t *table) add(cells ...string) {
	for i, c := range cells {
		cells[i] = plain(c)
	}
	t.rows = append(t.rows, cells)
}

// String returns the table, each line ended. Columns without any text are left
// out.
func (t *table) String() string {
	titles := make([]string, len(t.headings))
	widths := make([]int, len(t.headings))
	for i, h := range t.headings {
		titles[i] = strings.TrimPrefix(h, ">")
		for _, row := range t.rows {
			widths[i] = max(widths[i], ansi.StringWidth(row[i]))
		}
		if widths[i] > 0 {
			widths[i] = max(widths[i], ansi.StringWidth(titles[i]))
		}
	}
	var b strings.Builder
	for _, row := range append([][]string{titles}, t.rows...) {
		var line strings.Builder
		for i, cell := range row {
			if widths[i] == 0 {
				continue
			}
			if line.Len() > 0 {
				line.WriteString(t.gap)
			}
			gap := strings.Repeat(" ", widths[i]-ansi.StringWidth(cell))
			if strings.HasPrefix(t.headings[i], ">") {
				cell = gap + cell
			} else {
				cell += gap
			}
			line.WriteString(cell)
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

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

// screenWidth is how wide the usual terminal is, in columns.
const screenWidth = 80

// String returns the table, each line ended. Columns without any text are left
// out. Where it is wider than the usual terminal, headings that are wider than
// their columns stand in two lines, and columns closer together
// where that makes it fit.
func (t *table) String() string {
	top, bottom := make([]string, len(t.headings)), make([]string, len(t.headings))
	cells, widths := make([]int, len(t.headings)), make([]int, len(t.headings))
	for i, h := range t.headings {
		bottom[i] = strings.TrimPrefix(h, ">")
		for _, row := range t.rows {
			cells[i] = max(cells[i], ansi.StringWidth(row[i]))
		}
		if cells[i] > 0 {
			widths[i] = max(cells[i], ansi.StringWidth(bottom[i]))
		}
	}
	lines := append([][]string{bottom}, t.rows...)
	if taken(widths, len(t.gap)) > screenWidth {
		for i, width := range cells {
			if width > 0 && widths[i] > width {
				top[i], bottom[i] = twoLines(bottom[i])
				widths[i] = max(width, ansi.StringWidth(top[i]), ansi.StringWidth(bottom[i]))
			}
		}
		if strings.Join(top, "") != "" {
			lines = append([][]string{top}, lines...)
		}
	}
	gap := t.gap
	if taken(widths, len(gap)) > screenWidth && taken(widths, 1) <= screenWidth {
		gap = " "
	}
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(t.line(line, widths, gap) + "\n")
	}
	return b.String()
}

// taken is how many columns of the terminal a table takes.
func taken(widths []int, gap int) int {
	total := -gap
	for _, width := range widths {
		if width > 0 {
			total += width + gap
		}
	}
	return total
}

// line sets one line.
func (t *table) line(cells []string, widths []int, between string) string {
	var line strings.Builder
	for i, cell := range cells {
		if widths[i] == 0 {
			continue
		}
		if line.Len() > 0 {
			line.WriteString(between)
		}
		gap := strings.Repeat(" ", widths[i]-ansi.StringWidth(cell))
		if strings.HasPrefix(t.headings[i], ">") {
			cell = gap + cell
		} else {
			cell += gap
		}
		line.WriteString(cell)
	}
	return strings.TrimRight(line.String(), " ")
}

// twoLines parts a heading where both lines are short; one word stays in the
// lower.
func twoLines(heading string) (top, bottom string) {
	bottom = heading
	for i, r := range heading {
		if r != ' ' {
			continue
		}
		if max(i, len(heading)-i-1) < max(len(top), len(bottom)) {
			top, bottom = heading[:i], heading[i+1:]
		}
	}
	return top, bottom
}

package main

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// table is rows under headings. Columns are as wide as their widest cell.
type table struct {
	headings []string
	rows     [][]string
	gap      string // between two columns

	// What happens to a table that is wider than the usual terminal: columns are
	// left out, the first of these headings first, and then it is parted, each
	// part beginning with so many columns of the whole (0: it isn't parted).
	spare []string
	keys  int
	// wraps is for words in the last column: they go on in further lines.
	wraps bool
}

// leastWords is how many columns are left to words that go on in further lines.
const leastWords = 20

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
// their columns stand in two lines, and columns closer together where that makes
// it fit; then spare columns go, which a last line tells, and then it is parted.
func (t *table) String() string {
	cells := make([]int, len(t.headings)) // the widest of each column
	for _, row := range t.rows {
		for i, cell := range row {
			cells[i] = max(cells[i], ansi.StringWidth(cell))
		}
	}
	var all []int
	for i, width := range cells {
		if width > 0 {
			all = append(all, i)
		}
	}
	var gone []string
	for _, heading := range t.spare {
		i := slices.Index(all, slices.Index(t.headings, heading))
		if i >= 0 && !t.layOut(all, cells).fits() {
			all = slices.Delete(all, i, i+1)
			gone = append(gone, strings.TrimPrefix(heading, ">"))
		}
	}
	var b strings.Builder
	for i, part := range t.parts(all, cells) {
		if i > 0 {
			b.WriteByte('\n')
		}
		part.write(&b)
	}
	if len(gone) > 0 {
		b.WriteString(item("", "Left out to fit: "+strings.Join(gone, ", ")+"; --json has them."))
	}
	return b.String()
}

// parts are the columns of a table, parted so that each part fits. Columns whose
// headings begin with the same words up to a colon stay together.
func (t *table) parts(columns, cells []int) []layout {
	if t.keys == 0 || t.layOut(columns, cells).fits() {
		return []layout{t.layOut(columns, cells)}
	}
	keys := 0 // of the columns with any text
	for keys < len(columns) && columns[keys] < t.keys {
		keys++
	}
	var parts []layout
	part := columns[:keys:keys]
	for rest := columns[keys:]; len(rest) > 0; {
		n := t.together(rest)
		wider := slices.Concat(part, rest[:n])
		if len(part) > keys && !t.layOut(wider, cells).fits() {
			parts = append(parts, t.layOut(part, cells))
			wider = slices.Concat(columns[:keys], rest[:n])
		}
		part, rest = wider, rest[n:]
	}
	return append(parts, t.layOut(part, cells))
}

// together tells how many of the first of some columns stay together.
func (t *table) together(columns []int) int {
	group, _, grouped := strings.Cut(t.headings[columns[0]], ": ")
	n := 1
	for grouped && n < len(columns) && strings.HasPrefix(t.headings[columns[n]], group+": ") {
		n++
	}
	return n
}

// layout is how columns of a table are set.
type layout struct {
	*table
	columns     []int
	top, bottom []string // of each heading
	widths      []int    // of each column
	gap         string
}

// layOut sets columns, whose widest cells are so wide.
func (t *table) layOut(columns, cells []int) layout {
	l := layout{t, columns, make([]string, len(columns)), make([]string, len(columns)), make([]int, len(columns)), t.gap}
	for n, i := range columns {
		l.bottom[n] = strings.TrimPrefix(t.headings[i], ">")
		l.widths[n] = max(cells[i], ansi.StringWidth(l.bottom[n]))
	}
	if l.fits() {
		return l
	}
	for n, i := range columns {
		if l.widths[n] > cells[i] {
			l.top[n], l.bottom[n] = twoLines(l.bottom[n])
			l.widths[n] = max(cells[i], ansi.StringWidth(l.top[n]), ansi.StringWidth(l.bottom[n]))
		}
	}
	if l.fits() {
		return l
	}
	closer := l
	if closer.gap = " "; closer.fits() {
		return closer
	}
	if last := len(columns) - 1; t.wraps && columns[last] == len(t.headings)-1 {
		l.widths[last] = max(leastWords, l.widths[last]+screenWidth-l.total())
	}
	return l
}

// fits tells whether it fits the usual terminal.
func (l layout) fits() bool { return l.total() <= screenWidth }

// total is how many columns of the terminal it takes.
func (l layout) total() int {
	total := -len(l.gap)
	for _, width := range l.widths {
		total += width + len(l.gap)
	}
	return total
}

func (l layout) write(b *strings.Builder) {
	if strings.Join(l.top, "") != "" {
		b.WriteString(l.line(l.top) + "\n")
	}
	b.WriteString(l.line(l.bottom) + "\n")
	for _, row := range l.rows {
		cells, more := l.cells(row)
		b.WriteString(l.line(cells) + "\n")
		for _, words := range more {
			cells := make([]string, len(cells))
			cells[len(cells)-1] = words
			b.WriteString(l.line(cells) + "\n")
		}
	}
}

// cells are those of a row that are in the columns, and what goes on of the last
// one in further lines.
func (l layout) cells(row []string) (cells, more []string) {
	for n, i := range l.columns {
		lines := []string{row[i]}
		if ansi.StringWidth(row[i]) > l.widths[n] {
			lines = strings.Split(ansi.Wrap(row[i], l.widths[n], ""), "\n")
		}
		cells, more = append(cells, lines[0]), lines[1:]
	}
	return cells, more
}

// line sets one line of cells of the columns.
func (l layout) line(cells []string) string {
	var line strings.Builder
	for n, cell := range cells {
		if n > 0 {
			line.WriteString(l.gap)
		}
		gap := strings.Repeat(" ", l.widths[n]-ansi.StringWidth(cell))
		if strings.HasPrefix(l.headings[l.columns[n]], ">") {
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

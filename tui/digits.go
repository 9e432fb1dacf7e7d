package tui

// digitShapes are drawn on three columns and five rows.
var digitShapes = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"},
	'1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", "###", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"},
	'7': {"###", "  #", "  #", "  #", "  #"},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"},
	'm': {"   ", "###", "###", "# #", "# #"},
	'h': {"#  ", "#  ", "###", "# #", "# #"},
	'd': {"  #", "  #", "###", "# #", "###"},
	'-': {"   ", "   ", "###", "   ", "   "},
	'<': {"  #", " ##", "###", " ##", "  #"},
	'>': {"#  ", "## ", "###", "## ", "#  "},
	':': {" ", "#", " ", "#", " "},
}

// digitSize is how big digits are drawn: the cells of a shape's three columns,
// the rows of each of its rows, and the gap between digits.
type digitSize struct {
	widths [3]int
	arrow  [3]int // the same for arrows
	height int
	gap    int // between digits
	apart  int // the least between groups: nobody reads two numbers as one
}

// digitSizes go from the biggest, for wide and high screens, to the smallest.
var digitSizes = []digitSize{
	{[3]int{4, 4, 4}, [3]int{4, 4, 4}, 2, 3, 9},
	{[3]int{3, 3, 3}, [3]int{3, 3, 3}, 2, 2, 8},
	{[3]int{2, 2, 2}, [3]int{2, 2, 2}, 1, 2, 5},
	{[3]int{2, 1, 2}, [3]int{1, 1, 1}, 1, 1, 5},
	{[3]int{1, 2, 1}, [3]int{1, 1, 1}, 1, 1, 5},
	{[3]int{1, 1, 1}, [3]int{1, 1, 1}, 1, 1, 5},
}

// columns returns the cells of each of a shape's columns.
func (d digitSize) columns(r rune) [3]int {
	if r == '<' || r == '>' {
		return d.arrow
	}
	return d.widths
}

// rows returns the height of digits in rows.
func (d digitSize) rows() int { return 5 * d.height }

// width returns the columns that the text takes.
func (d digitSize) width(s string) int {
	total := 0
	for i, r := range s {
		if i > 0 {
			total += d.gap
		}
		for column := range digitShapes[r][0] {
			total += d.columns(r)[column]
		}
	}
	return total
}

// draw draws the text with its upper left corner at a column and row.
func (d digitSize) draw(c *canvas, x, y int, i ink, full rune, s string) {
	for _, r := range s {
		shape, widths := digitShapes[r], d.columns(r)
		for row, line := range shape {
			left := x
			for column, dot := range line {
				for k := range widths[column] {
					for h := range d.height {
						if dot == '#' {
							c.set(left+k, y+row*d.height+h, i, full)
						}
					}
				}
				left += widths[column]
			}
		}
		x += d.width(string(r)) + d.gap
	}
}

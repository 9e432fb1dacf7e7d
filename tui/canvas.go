package tui

import "strings"

// cell is one character of a canvas and how it is inked.
type cell struct {
	r   rune
	ink ink
}

// canvas is a page of cells, drawn like a painting: what is drawn later lies
// over what was there. Whatever falls outside is cut off, so nothing drawn on a
// canvas can be wider or higher than it. It knows no terminal: a theme turns
// it into one's text.
type canvas struct {
	columns, rows int
	cells         []cell
	glyphs        glyphs
}

func newCanvas(columns, rows int, g glyphs) *canvas {
	c := &canvas{columns: max(columns, 0), rows: max(rows, 0), glyphs: g}
	c.cells = make([]cell, c.columns*c.rows)
	c.clear()
	return c
}

// clear empties the canvas.
func (c *canvas) clear() {
	for i := range c.cells {
		c.cells[i] = cell{' ', plain}
	}
}

// set puts one rune, which must be one cell wide, at a column and row.
func (c *canvas) set(x, y int, i ink, r rune) {
	if x >= 0 && x < c.columns && y >= 0 && y < c.rows {
		c.cells[y*c.columns+x] = cell{r, i}
	}
}

// at returns the cell at a column and row, a blank outside.
func (c *canvas) at(x, y int) cell {
	if x >= 0 && x < c.columns && y >= 0 && y < c.rows {
		return c.cells[y*c.columns+x]
	}
	return cell{' ', plain}
}

// text writes cleaned text to the right of a column and returns the column
// after it.
func (c *canvas) text(x, y int, i ink, s string) int {
	for _, r := range c.glyphs.say(s) {
		c.set(x, y, i, r)
		x++
	}
	return x
}

// fit is the fullest of the candidates, as the canvas will write it, that the
// columns hold; see fit.
func (c *canvas) fit(columns int, candidates ...string) string {
	said := make([]string, len(candidates))
	for i, s := range candidates {
		said[i] = c.glyphs.say(s)
	}
	return fit(columns, said...)
}

// right writes cleaned text so that it ends before a column.
func (c *canvas) right(x, y int, i ink, s string) {
	s = c.glyphs.say(s)
	c.text(x-cells(s), y, i, s)
}

// centred writes cleaned text around the middle of the columns from left to
// right (right not included).
func (c *canvas) centred(left, right, y int, i ink, s string) {
	s = c.fit(right-left, s)
	c.text(left+(right-left-cells(s))/2, y, i, s)
}

// bar inks a whole row from a column on for the given width, keeping its text.
func (c *canvas) bar(x, y, width int, i ink) {
	for k := x; k < x+width; k++ {
		c.set(k, y, i, c.at(k, y).r)
	}
}

// column fills the cells of a column upwards from a row, to half a cell.
func (c *canvas) column(x, y, rows int, filled float64, i ink, full, half rune) {
	for k := range rows {
		switch {
		case filled >= float64(k)+0.75:
			c.set(x, y-k, i, full)
		case filled >= float64(k)+0.25:
			c.set(x, y-k, i, half)
		}
	}
}

// paste copies another canvas with its upper left corner at a column and row.
func (c *canvas) paste(x, y int, from *canvas) {
	for row := range from.rows {
		for column := range from.columns {
			p := from.cells[row*from.columns+column]
			c.set(x+column, y+row, p.ink, p.r)
		}
	}
}

// plain returns the canvas as text without any escape sequence, without blanks
// at line ends.
func (c *canvas) plain() string {
	var b strings.Builder
	for y := range c.rows {
		line := make([]rune, c.columns)
		for x := range line {
			line[x] = c.cells[y*c.columns+x].r
		}
		b.WriteString(strings.TrimRight(string(line), " "))
		if y < c.rows-1 {
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// render returns the canvas as text for a terminal with the given theme. Blanks
// at line ends are left to the terminal.
func (c *canvas) render(t theme) string {
	var b strings.Builder
	b.Grow(len(c.cells)*2 + 256)
	for y := range c.rows {
		if y > 0 {
			b.WriteByte('\n')
		}
		row := c.cells[y*c.columns : (y+1)*c.columns]
		end := len(row)
		for end > 0 && row[end-1].r == ' ' && !t.fills(row[end-1].ink) {
			end--
		}
		current := ""
		for _, p := range row[:end] {
			style := t[p.ink]
			if p.r == ' ' && !t.fills(p.ink) {
				style = ""
			}
			if style != current {
				if current != "" {
					b.WriteString("\x1b[0m")
				}
				if style != "" {
					b.WriteString("\x1b[" + style + "m")
				}
				current = style
			}
			b.WriteRune(p.r)
		}
		if current != "" {
			b.WriteString("\x1b[0m")
		}
	}
	return b.String()
}

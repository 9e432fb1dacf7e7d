package elements

import (
	"bytes"
	"fmt"
)

// isCSV tells by the first line: names with commas between them, two or more of
// which are keywords, and no blank in the first, as in a TLE's "0 NAME".
func isCSV(head []byte) bool {
	line, _, _ := bytes.Cut(head, []byte("\n"))
	keys := 0
	for i, cell := range bytes.Split(line, []byte(",")) {
		cell = bytes.Trim(cell, "\" \t\r")
		if i == 0 && bytes.IndexByte(cell, ' ') >= 0 {
			return false
		}
		if _, ok := keyOf(cell); ok {
			keys++
		}
	}
	return keys >= 2
}

// readCSV reads OMM in comma-separated values, as the public catalogue is
// served: a line of keywords, then a line for each message, cells in double
// quotes or not. Unknown columns are read over; an empty cell is a value left
// out. The standard itself has no such encoding.
func readCSV(src *source) {
	c := csvReader{src: src}
	c.msg.start(src)
	if !c.header() {
		return
	}
	for {
		if _, more := src.skipBlanks(); !more {
			return
		}
		c.row()
	}
}

type csvReader struct {
	src     *source
	msg     message
	cell    []byte
	columns [][]byte
}

// maxColumns is far more than there are keywords.
const maxColumns = 1000

// header reads the names of the columns.
func (c *csvReader) header() bool {
	for last := false; !last; {
		line, column := c.src.place()
		if len(c.columns) == maxColumns {
			c.msg.fault(Error{Line: line, Column: column, What: "too many columns", Want: fmt.Sprintf("at most %d", maxColumns), Advice: adviceAgain})
			return false
		}
		_, end, ok := c.next()
		if !ok {
			return false
		}
		last = end
		name := bytes.Clone(bytes.Trim(c.cell, " \t\r\n"))
		if k, v := c.msg.slot(name, line, column); v != nil && k != comment && k != keyCount {
			v.line = line // so that a second one is a fault
		}
		c.columns = append(c.columns, name)
	}
	return !c.msg.faulty
}

// row reads one message.
func (c *csvReader) row() {
	c.msg.start(c.src)
	latest := version
	n := 0
	for last := false; !last; n++ {
		line, column := c.src.place()
		cut, end, ok := c.next()
		if !ok {
			return
		}
		last = end
		if n >= len(c.columns) {
			continue
		}
		name := c.columns[n]
		var v *value
		if latest, v = c.msg.slot(name, line, column); v != nil {
			c.msg.put(v, c.cell, line, column)
			v.cut = cut
		}
	}
	if n != len(c.columns) {
		c.msg.fault(Error{
			Line: c.msg.line, Column: c.msg.column, What: fmt.Sprintf("a line of %d cells", n),
			Want: fmt.Sprintf("%d, as in the first line", len(c.columns)), Advice: adviceAgain,
		})
		return
	}
	c.msg.unendedFault(latest)
	c.msg.finish(CSV)
}

var (
	cellEnds  = stopsAt(",\n")
	quoteEnds = stopsAt(`"`)
)

// next reads a cell into c.cell and what ends it; end tells the end of a line.
func (c *csvReader) next() (cut, end, ok bool) {
	c.cell = c.cell[:0]
	if first, _ := c.src.peek(); first == '"' {
		if cut, ok = c.quoted(); !ok {
			return cut, true, false
		}
	}
	var longer bool
	c.cell, longer = c.src.until(cellEnds, c.cell, maxText)
	mark, more := c.src.next()
	c.src.unended = !more
	return cut || longer, mark != ',', true
}

// quoted reads a cell in double quotes, in which two of them stand for one.
func (c *csvReader) quoted() (cut, ok bool) {
	line, column := c.src.place()
	c.src.next()
	for {
		var longer bool
		c.cell, longer = c.src.until(quoteEnds, c.cell, maxText)
		cut = cut || longer
		if _, more := c.src.next(); !more {
			c.msg.fault(Error{Line: line, Column: column, What: "a cell in quotes is not ended", Found: string(clipBytes(c.cell)), Want: "a closing quote", Advice: adviceAgain})
			return cut, false
		}
		if again, _ := c.src.peek(); again != '"' {
			return cut, true
		}
		c.src.next()
		if len(c.cell) < maxText {
			c.cell = append(c.cell, '"')
		}
	}
}

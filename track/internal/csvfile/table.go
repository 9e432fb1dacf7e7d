package csvfile

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Table is a file being read, row by row. The first thing wrong ends it: from
// then on Next returns false, cells are zero, and Err tells.
//
//	for t.Next() {
//		p := Point{t.Number("azimuth_deg", 0, 360), t.Number("elevation_deg", -5, 90)}
//		…
//	}
//	if err := t.Err(); err != nil {
type Table struct {
	format  Format
	file    string
	limited *io.LimitedReader
	csv     *csv.Reader
	columns []string
	row     []string
	err     error // an *Error, or io.EOF
}

// Open reads the line of column names. The name of the file is for the error.
func Open(r io.Reader, file string, f Format) *Table {
	t := &Table{format: f, file: file, limited: &io.LimitedReader{R: r, N: f.MaxBytes + 1}}
	text := bufio.NewReader(t.limited)
	if bom, _ := text.Peek(3); string(bom) == "\xef\xbb\xbf" {
		_, _ = text.Discard(3) // they are there
	}
	if begin, _ := text.Peek(textLooked); bytes.IndexByte(begin, 0) >= 0 {
		t.err = &Error{File: file, Line: 1, Column: 1, What: "binary data or text in UTF-16, want CSV in UTF-8", Advice: f.advice()}
	}
	t.csv = csv.NewReader(text)
	t.csv.Comment = '#'
	t.csv.FieldsPerRecord = -1
	t.csv.ReuseRecord = true
	t.header()
	return t
}

// textLooked is how many bytes are looked at for what no text has.
const textLooked = 512

// wrongSeparator returns what stands between the columns in the place of commas,
// as some spreadsheets write them; empty where commas do.
func wrongSeparator(names []string) string {
	if len(names) == 1 {
		for _, s := range []string{";", "\t"} {
			if strings.Contains(names[0], s) {
				return s
			}
		}
	}
	return ""
}

// header takes the column names.
func (t *Table) header() {
	if t.err != nil {
		return
	}
	names, err := t.csv.Read()
	if err != nil || t.tooLarge() {
		t.end(err)
		if errors.Is(t.err, io.EOF) {
			t.err = &Error{File: t.file, Line: 1, Column: 1, What: "empty, want a line of column names", Advice: t.format.advice()}
		}
		return
	}
	if separator := wrongSeparator(names); separator != "" {
		t.fail(0, t.format.advice(), "the columns are separated by %q, want a comma", separator)
	}
	known := t.format.names()
	for i, name := range names {
		name = strings.TrimSpace(name)
		switch {
		case !slices.Contains(known, name):
			t.fail(i, t.format.advice(), "unknown column %q", Found(name))
		case slices.Contains(t.columns, name):
			t.fail(i, t.format.advice(), "column %q is there twice", name)
		}
		t.columns = append(t.columns, name)
	}
	if what := t.format.check(t.columns); what != "" {
		t.fail(0, t.format.advice(), "%s", what)
	}
}

// Next goes to the next row. It returns false at the end and after an error.
func (t *Table) Next() bool {
	if t.err != nil {
		return false
	}
	row, err := t.csv.Read()
	switch {
	case err != nil || t.tooLarge():
		t.end(err)
	case len(row) != len(t.columns):
		t.fail(min(len(row), len(t.columns))-1, "", "%d cells, want %d as in the line of column names", len(row), len(t.columns))
	}
	t.row = row
	return t.err == nil
}

// Err returns what is wrong, an *Error, or nil.
func (t *Table) Err() error {
	if errors.Is(t.err, io.EOF) {
		return nil
	}
	return t.err
}

// Has returns whether the file has a column.
func (t *Table) Has(column string) bool { return slices.Contains(t.columns, column) }

// Line returns the line on which the row begins, from 1.
func (t *Table) Line() int {
	line, _ := t.csv.FieldPos(0)
	return line
}

// Fail says what is wrong with a cell of the row, unless something was before;
// the hint may be empty. What it quotes from the file must go through Found.
func (t *Table) Fail(column, hint, format string, args ...any) {
	t.fail(max(slices.Index(t.columns, column), 0), hint, format, args...)
}

// fail says what is wrong with a cell of the line read last.
func (t *Table) fail(cell int, hint, format string, args ...any) {
	if t.err != nil {
		return
	}
	line, column := t.csv.FieldPos(cell)
	t.err = &Error{File: t.file, Line: line, Column: column, What: fmt.Sprintf(format, args...), Advice: hint}
}

// tooLarge tells whether the file goes on beyond its limit, where the reader cuts
// it, be it within a cell.
func (t *Table) tooLarge() bool { return t.limited.N <= 0 }

// end takes what the CSV reader ended with.
func (t *Table) end(err error) {
	var syntax *csv.ParseError
	advice := ""
	if t.columns == nil {
		advice = t.format.advice()
	}
	switch {
	case t.tooLarge():
		t.err = &Error{File: t.file, Line: 1, Column: 1, What: fmt.Sprintf("more than %d MiB: not %s", t.format.MaxBytes>>20, t.format.What)}
	case errors.As(err, &syntax):
		t.err = &Error{File: t.file, Line: max(syntax.Line, 1), Column: max(syntax.Column, 1), What: "not CSV", Err: syntax.Err, Advice: advice}
	case errors.Is(err, io.EOF):
		t.err = io.EOF
	default:
		t.err = &Error{File: t.file, Line: max(t.Line(), 1), Column: 1, What: "can't be read on", Err: err}
	}
}

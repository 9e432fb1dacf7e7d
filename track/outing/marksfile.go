package outing

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// markColumns are the columns of a marks file in the order written.
var markColumns = [...]string{"time", "kind", "frequency_hz", "strength", "azimuth_deg", "elevation_deg", "note"}

const (
	maxMarksFile = 16 << 20 // bytes; a night of marks is a thousandth of it
	maxFound     = 40       // characters of what was there, in an error
)

// FileError is what is wrong with a file of marks, and where.
type FileError struct {
	File         string
	Line, Column int // from 1; columns count bytes
	What         string
	Advice       string // the way out; may be empty
	Err          error  // of the reader, if that is what stopped the reading
}

// Error returns one line: FILE:LINE:COLUMN: what is wrong.
func (e *FileError) Error() string {
	text := fmt.Sprintf("%s:%d:%d: %s", Clean(e.File), e.Line, e.Column, e.What)
	if e.Err != nil {
		text += ": " + Clean(e.Err.Error())
	}
	return text
}

// Hint returns the way out; empty where there is none.
func (e *FileError) Hint() string { return e.Advice }

// Unwrap returns the reader's error.
func (e *FileError) Unwrap() error { return e.Err }

// ReadMarks reads marks as CSV: a line of column names (time and kind are
// needed; frequency_hz, strength, azimuth_deg, elevation_deg and note may be
// there, in any order), then a line a mark, in which all cells but those two
// may be empty. Lines that begin with # are skipped. Notes are cleaned. Marks
// are numbered from 1 in the order read; what the columns don't hold is
// unknown. The name of the file is for the error, a *FileError: the first.
func ReadMarks(r io.Reader, file string) ([]Mark, error) {
	limited := &io.LimitedReader{R: r, N: maxMarksFile + 1}
	text := bufio.NewReader(limited)
	if bom, _ := text.Peek(3); string(bom) == "\xef\xbb\xbf" {
		text.Discard(3)
	}
	c := csv.NewReader(text)
	c.Comment = '#'
	c.FieldsPerRecord = -1
	c.ReuseRecord = true
	f := markFile{csv: c, file: file}
	header, err := c.Read()
	if err == nil {
		err = f.header(header)
	}
	for err == nil {
		var row []string
		if row, err = c.Read(); err == nil {
			err = f.row(row)
		}
	}
	switch {
	case limited.N <= 0:
		return nil, &FileError{File: file, Line: 1, Column: 1, What: fmt.Sprintf("more than %d MiB: not a file of marks", maxMarksFile>>20)}
	case errors.Is(err, io.EOF) && f.columns == nil:
		return nil, &FileError{File: file, Line: 1, Column: 1, What: "empty, want a line of column names", Advice: "begin it with " + strings.Join(markColumns[:], ",")}
	case errors.Is(err, io.EOF):
		return f.marks, nil
	}
	return nil, f.fault(err)
}

// markFile is a file of marks being read.
type markFile struct {
	csv     *csv.Reader
	file    string
	columns []string
	marks   []Mark
}

// fault gives an error of the CSV reader its place.
func (f *markFile) fault(err error) error {
	var known *FileError
	var syntax *csv.ParseError
	switch {
	case errors.As(err, &known):
		return err
	case errors.As(err, &syntax):
		return &FileError{File: f.file, Line: max(syntax.Line, 1), Column: max(syntax.Column, 1), What: "not CSV", Err: syntax.Err}
	}
	line, _ := f.csv.FieldPos(0)
	return &FileError{File: f.file, Line: max(line, 1), Column: 1, What: "can't be read on", Err: err}
}

// at makes an error at a cell of the line read last.
func (f *markFile) at(cell int, format string, args ...any) *FileError {
	line, column := f.csv.FieldPos(cell)
	return &FileError{File: f.file, Line: line, Column: column, What: fmt.Sprintf(format, args...)}
}

// header takes the column names.
func (f *markFile) header(names []string) error {
	all := strings.Join(markColumns[:], ", ")
	for i, name := range names {
		name = strings.TrimSpace(name)
		switch {
		case !slices.Contains(markColumns[:], name):
			e := f.at(i, "unknown column %q", found(name))
			e.Advice = "the columns are " + all
			return e
		case slices.Contains(f.columns, name):
			return f.at(i, "column %q is there twice", name)
		}
		f.columns = append(f.columns, name)
	}
	for _, name := range []string{"time", "kind"} {
		if !slices.Contains(f.columns, name) {
			e := f.at(0, "column %q is missing", name)
			e.Advice = "the columns are " + all
			return e
		}
	}
	return nil
}

// row takes one mark.
func (f *markFile) row(cells []string) error {
	if len(cells) != len(f.columns) {
		return f.at(min(len(cells), len(f.columns))-1, "%d cells, want %d as in the line of column names", len(cells), len(f.columns))
	}
	mark := Mark{ID: len(f.marks) + 1}
	var azimuth, elevation bool
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		column := f.columns[i]
		if cell == "" {
			if column == "time" || column == "kind" {
				return f.at(i, "%s is empty", column)
			}
			continue
		}
		var what string
		switch column {
		case "time":
			mark.At, what = markTime(cell)
		case "kind":
			mark.Kind = MarkKind(cell)
			if !mark.Kind.known() {
				what = "want heard, silent, not_listening, noise_up or noise_normal"
			}
		case "frequency_hz":
			mark.FrequencyHz, what = within(cell, 1, 1e12, "a frequency in Hz, 1 to 1e12")
		case "strength":
			mark.Strength = Strength(cell)
			if !mark.Strength.known() {
				what = "want weak, good, strong or nothing"
			}
		case "azimuth_deg":
			azimuth = true
			mark.Held.AzimuthDeg, what = within(cell, 0, 360, "0 to 360")
		case "elevation_deg":
			elevation = true
			mark.Held.ElevationDeg, what = within(cell, -90, 90, "-90 to 90")
		case "note":
			mark.Note = Clean(cell)
		}
		if what != "" {
			return f.at(i, "%s is %q, %s", column, found(cell), what)
		}
	}
	if azimuth != elevation {
		return f.at(0, "only one of azimuth_deg and elevation_deg is given, want both or none")
	}
	mark.Held.Known = azimuth
	f.marks = append(f.marks, mark)
	return nil
}

// found makes what was there fit for an error.
func found(cell string) string {
	cell = Clean(cell)
	if runes := []rune(cell); len(runes) > maxFound {
		return string(runes[:maxFound]) + "..."
	}
	return cell
}

// markTime reads a time, to the millisecond.
func markTime(cell string) (time.Time, string) {
	t, err := time.Parse(time.RFC3339, cell)
	if t = stamp(t); err != nil || !printable(t) || t.IsZero() {
		return time.Time{}, "want a time such as 2026-03-01T12:00:31.500Z"
	}
	return t, ""
}

// within reads a number in a range.
func within(cell string, low, high float64, want string) (float64, string) {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil || !(v >= low && v <= high) {
		return 0, "want " + want
	}
	return v, ""
}

// WriteMarks writes marks as ReadMarks reads them, those that don't stand left
// out: times in UTC with milliseconds, numbers with all their digits.
func WriteMarks(w io.Writer, marks []Mark) error {
	c := csv.NewWriter(w)
	number := func(v float64, known bool) string {
		if !known || math.IsNaN(v) || math.IsInf(v, 0) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	if err := c.Write(markColumns[:]); err != nil {
		return err
	}
	for _, m := range marks {
		if !m.stands() {
			continue
		}
		err := c.Write([]string{
			stamp(m.At).Format(timeLayout), string(m.Kind), number(m.FrequencyHz, m.FrequencyHz > 0), string(m.Strength),
			number(m.Held.AzimuthDeg, m.Held.Known), number(m.Held.ElevationDeg, m.Held.Known), Clean(m.Note),
		})
		if err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

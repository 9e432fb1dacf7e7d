package terrain

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"foreaim/track"
)

const (
	maxSkylineFile = 1 << 20 // bytes; a point every tenth of a degree is a twentieth of it
	columnAdvice   = "the columns are azimuth_deg,elevation_deg or azimuth_deg,fists"
)

// ReadSkyline reads a skyline as CSV: a line of column names, azimuth_deg and
// either elevation_deg or fists, then a line a point, in any order of azimuth.
// A fist is fistDeg degrees. Lines that begin with # are skipped. The name of
// the file is for the error, a *FileError: the first.
func ReadSkyline(r io.Reader, file string, fistDeg float64) (Skyline, error) {
	limited := &io.LimitedReader{R: r, N: maxSkylineFile + 1}
	text := bufio.NewReader(limited)
	if bom, _ := text.Peek(3); string(bom) == "\xef\xbb\xbf" {
		text.Discard(3)
	}
	c := csv.NewReader(text)
	c.Comment = '#'
	c.FieldsPerRecord = -1
	f := skylineFile{csv: c, file: file, fistDeg: fistDeg, lines: map[float64]int{}}
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
		return Skyline{}, &FileError{File: file, Line: 1, Column: 1, What: fmt.Sprintf("more than %d MiB: not a skyline", maxSkylineFile>>20)}
	case errors.Is(err, io.EOF) && f.columns == nil:
		return Skyline{}, &FileError{File: file, Line: 1, Column: 1, What: "empty, want a line of column names", Advice: columnAdvice}
	case !errors.Is(err, io.EOF):
		return Skyline{}, f.fault(err)
	}
	return NewSkyline(f.points...)
}

// skylineFile is a skyline being read.
type skylineFile struct {
	csv     *csv.Reader
	file    string
	fistDeg float64
	columns []string
	points  []Point
	lines   map[float64]int // where each azimuth is
}

// fault gives an error of the CSV reader its place.
func (f *skylineFile) fault(err error) error {
	var known *FileError
	var syntax *csv.ParseError
	switch {
	case errors.As(err, &known):
		return err
	case errors.As(err, &syntax):
		return &FileError{File: f.file, Line: max(syntax.Line, 1), Column: max(syntax.Column, 1), What: "not CSV", Err: syntax.Err}
	}
	return &FileError{File: f.file, Line: 1, Column: 1, What: "can't be read", Err: err}
}

// at makes an error at a cell of the line read last.
func (f *skylineFile) at(cell int, advice, format string, args ...any) error {
	line, column := f.csv.FieldPos(cell)
	return &FileError{File: f.file, Line: line, Column: column, What: fmt.Sprintf(format, args...), Advice: advice}
}

// header takes the column names.
func (f *skylineFile) header(names []string) error {
	for i, name := range names {
		name = strings.TrimSpace(name)
		switch {
		case name != "azimuth_deg" && name != "elevation_deg" && name != "fists":
			return f.at(i, columnAdvice, "unknown column %q", found(name))
		case slices.Contains(f.columns, name):
			return f.at(i, columnAdvice, "column %q is there twice", name)
		}
		f.columns = append(f.columns, name)
	}
	switch {
	case !slices.Contains(f.columns, "azimuth_deg"):
		return f.at(0, columnAdvice, `column "azimuth_deg" is missing`)
	case len(f.columns) == 1:
		return f.at(0, columnAdvice, `column "elevation_deg" or "fists" is missing`)
	case len(f.columns) == 3:
		return f.at(0, columnAdvice, `both "elevation_deg" and "fists" are there, want one`)
	case slices.Contains(f.columns, "fists") && !(f.fistDeg > 0 && f.fistDeg <= HighestDeg):
		return f.at(slices.Index(f.columns, "fists"), "", "a fist of %v degrees is not possible", f.fistDeg)
	}
	return nil
}

// row takes one point.
func (f *skylineFile) row(cells []string) error {
	if len(cells) != len(f.columns) {
		return f.at(min(len(cells), len(f.columns))-1, "", "%d cells, want %d as in the line of column names", len(cells), len(f.columns))
	}
	var p Point
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		v, err := strconv.ParseFloat(cell, 64)
		want := "a number of degrees, 0 to 360"
		switch f.columns[i] {
		case "azimuth_deg":
			p.AzimuthDeg = v
			if !(v >= 0 && v <= 360) {
				err = strconv.ErrRange
			}
		case "elevation_deg":
			want = fmt.Sprintf("a number of degrees, %d to %d", LowestDeg, HighestDeg)
			p.ElevationDeg = v
		case "fists":
			want = fmt.Sprintf("a number of fists, %.3g to %.3g", LowestDeg/f.fistDeg, HighestDeg/f.fistDeg)
			p.ElevationDeg = v * f.fistDeg
		}
		if err != nil || !(p.ElevationDeg >= LowestDeg && p.ElevationDeg <= HighestDeg) {
			return f.at(i, "", "%s is %q, want %s", f.columns[i], found(cell), want)
		}
	}
	azimuth := slices.Index(f.columns, "azimuth_deg")
	if line, there := f.lines[track.Wrap360(p.AzimuthDeg)]; there {
		return f.at(azimuth, "keep one of the two", "azimuth_deg %v is in line %d already", p.AzimuthDeg, line)
	}
	f.lines[track.Wrap360(p.AzimuthDeg)], _ = f.csv.FieldPos(azimuth)
	f.points = append(f.points, p)
	return nil
}

// WriteSkyline writes a skyline in degrees as ReadSkyline reads it, by azimuth
// and with all digits.
func WriteSkyline(w io.Writer, s Skyline) error {
	c := csv.NewWriter(w)
	if err := c.Write([]string{"azimuth_deg", "elevation_deg"}); err != nil {
		return err
	}
	for _, p := range s.points {
		if err := c.Write([]string{strconv.FormatFloat(p.AzimuthDeg, 'f', -1, 64), strconv.FormatFloat(p.ElevationDeg, 'f', -1, 64)}); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

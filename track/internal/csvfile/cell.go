package csvfile

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// maxText is how many characters of a cell are kept.
const maxText = 2000

// cell returns a cell without the blanks around it; "" where the file doesn't
// have the column, and after an error.
func (t *Table) cell(column string) string {
	i := slices.Index(t.columns, column)
	if i < 0 || i >= len(t.row) || t.err != nil {
		return ""
	}
	return strings.TrimSpace(t.row[i])
}

// Text returns a cell, cleaned; "" when it is empty or the file doesn't have the
// column.
func (t *Table) Text(column string) string { return Clean(t.cell(column), maxText) }

// Words returns a cell that can't be empty, cleaned.
func (t *Table) Words(column string) string {
	text := t.Text(column)
	if text == "" {
		t.Fail(column, "", "%s is empty", column)
	}
	return text
}

// Number returns a cell that must be a number from low to high.
func (t *Table) Number(column string, low, high float64) float64 {
	if t.err != nil {
		return 0
	}
	cell := t.cell(column)
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil || !(v >= low && v <= high) { // refuses NaN too
		t.Fail(column, "", "%s is %q, want a number%s, %s to %s", column, Found(cell), unit(column), short(low), short(high))
		return 0
	}
	return v
}

// Maybe returns a number from low to high, or false when the cell is empty or
// the file doesn't have the column.
func (t *Table) Maybe(column string, low, high float64) (float64, bool) {
	if t.cell(column) == "" {
		return 0, false
	}
	return t.Number(column, low, high), true
}

// The years that a time may be of: since there are satellites, and as long as
// their elements may reach.
const firstYear, lastYear = 1957, 2200

// Time returns a cell that must be a time with its zone (RFC 3339), in UTC,
// rounded to the millisecond.
func (t *Table) Time(column string) time.Time {
	if t.err != nil {
		return time.Time{}
	}
	cell := t.cell(column)
	at, err := time.Parse(time.RFC3339, cell)
	at = at.UTC().Round(time.Millisecond)
	switch {
	case err != nil:
		t.Fail(column, "", "%s is %q, want a time such as 2026-03-01T12:00:31.500Z", column, Found(cell))
	case at.Year() < firstYear || at.Year() > lastYear:
		t.Fail(column, "", "%s is %q, want a time of the years %d to %d", column, Found(cell), firstYear, lastYear)
	default:
		return at
	}
	return time.Time{}
}

// Choice returns a cell that must be one of some words; "" for an empty cell or
// a missing column if that is one of them.
func (t *Table) Choice(column string, words ...string) string {
	cell := t.cell(column)
	if t.err != nil || slices.Contains(words, cell) {
		return cell
	}
	last := len(words) - 1
	want := words[last]
	if want == "" {
		want = "nothing"
	}
	if last > 0 {
		want = strings.Join(words[:last], ", ") + " or " + want
	}
	t.Fail(column, "", "%s is %q, want %s", column, Found(cell), want)
	return ""
}

// units are the ends of column names, as people write them.
var units = []struct{ end, words string }{
	{"_deg", " of degrees"}, {"_km", " of km"}, {"_m", " of m"}, {"_s", " of s"},
	{"_mhz", " of MHz"}, {"_hz", " of Hz"}, {"_dbm", " of dBm"}, {"_dbi", " of dBi"}, {"_db", " of dB"},
	{"fists", " of fists"},
}

// unit says in words what the end of a column's name says.
func unit(column string) string {
	for _, u := range units {
		if strings.HasSuffix(column, u.end) {
			return u.words
		}
	}
	return ""
}

// short writes a limit for people.
func short(v float64) string {
	if math.Abs(v) >= 1e7 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

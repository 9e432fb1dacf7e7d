package outing

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"foreaim/track/internal/csvfile"
)

// markColumns are the columns of a marks file in the order written; the first
// two are needed.
var markColumns = [...]string{"time", "kind", "frequency_hz", "strength", "azimuth_deg", "elevation_deg", "note"}

// maxMarksFile is in bytes; a night of marks is a thousandth of it.
const maxMarksFile = 16 << 20

// FileError is what is wrong with a file of marks, and where.
type FileError = csvfile.Error

// ReadMarks reads marks as CSV: a line of column names (time and kind are
// needed; frequency_hz, strength, azimuth_deg, elevation_deg and note may be
// there, in any order), then a line a mark, in which all cells but those two
// may be empty. Lines that begin with # are skipped. Notes are cleaned. Marks
// are numbered from 1 in the order read; what the columns don't hold is
// unknown. The name of the file is for the error, a *FileError: the first.
func ReadMarks(r io.Reader, file string) ([]Mark, error) {
	t := csvfile.Open(r, file, csvfile.Format{
		What: "a file of marks", Needs: markColumns[:2], May: markColumns[2:], MaxBytes: maxMarksFile,
	})
	var marks []Mark
	for t.Next() {
		m := Mark{
			ID:       len(marks) + 1,
			At:       t.Time("time"),
			Kind:     MarkKind(t.Choice("kind", string(Heard), string(Silent), string(NotListening), string(NoiseUp), string(NoiseNormal))),
			Strength: Strength(t.Choice("strength", string(Weak), string(Good), string(Strong), "")),
			Note:     t.Text("note"),
		}
		m.FrequencyHz, _ = t.Maybe("frequency_hz", 1, 1e12)
		var elevation bool
		m.Held.AzimuthDeg, m.Held.Known = t.Maybe("azimuth_deg", 0, 360)
		m.Held.ElevationDeg, elevation = t.Maybe("elevation_deg", -90, 90)
		if m.Held.Known != elevation {
			t.Fail("time", "", "only one of azimuth_deg and elevation_deg is given, want both or none")
		}
		marks = append(marks, m)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	return marks, nil
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

package terrain

import (
	"encoding/csv"
	"io"
	"strconv"

	"foreaim/track"
	"foreaim/track/internal/csvfile"
)

// maxSkylineFile is in bytes; a point every tenth of a degree is a twentieth of
// it.
const maxSkylineFile = 1 << 20

// FileError is what is wrong with a file, and where.
type FileError = csvfile.Error

// ReadSkyline reads a skyline as CSV: a line of column names, azimuth_deg and
// either elevation_deg or fists, then a line a point, in any order of azimuth.
// A fist is fistDeg degrees. Lines that begin with # are skipped. The name of
// the file is for the error, a *FileError: the first.
func ReadSkyline(r io.Reader, file string, fistDeg float64) (Skyline, error) {
	t := csvfile.Open(r, file, csvfile.Format{
		What: "a skyline", Needs: []string{"azimuth_deg", "elevation_deg|fists"}, MaxBytes: maxSkylineFile,
	})
	height, scale := "elevation_deg", 1.0
	if t.Has("fists") {
		height, scale = "fists", fistDeg
		if !(fistDeg > 0 && fistDeg <= HighestDeg) {
			t.Fail("fists", "", "a fist of %v degrees is not possible", fistDeg)
		}
	}
	var points []Point
	lines := map[float64]int{} // where each azimuth is
	for t.Next() {
		p := Point{AzimuthDeg: t.Number("azimuth_deg", 0, 360)}
		p.ElevationDeg = t.Number(height, LowestDeg/scale, HighestDeg/scale) * scale
		// Rounding may go a hair beyond.
		p.ElevationDeg = min(max(p.ElevationDeg, LowestDeg), HighestDeg)
		azimuth := track.Wrap360(p.AzimuthDeg)
		if line, there := lines[azimuth]; there {
			t.Fail("azimuth_deg", "keep one of the two", "azimuth_deg %v is in line %d already", p.AzimuthDeg, line)
		}
		lines[azimuth] = t.Line()
		points = append(points, p)
	}
	if err := t.Err(); err != nil {
		return Skyline{}, err
	}
	return NewSkyline(points...)
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

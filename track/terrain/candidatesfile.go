package terrain

import (
	"io"

	"foreaim/track/internal/csvfile"
)

const maxCandidatesFile = 16 << 20 // bytes

// ReadCandidates reads places as CSV: the columns name, latitude_deg,
// longitude_deg and antenna_m (above ground, 0 to 1000), in any order, a line a
// place. Each name once. The name of the file is for the error, a *FileError: the
// first.
func ReadCandidates(r io.Reader, file string) ([]Candidate, error) {
	t := csvfile.Open(r, file, csvfile.Format{
		What: "a file of sites", Needs: []string{"name", "latitude_deg", "longitude_deg", "antenna_m"}, MaxBytes: maxCandidatesFile,
	})
	var all []Candidate
	lines := map[string]int{} // where each name is
	for t.Next() {
		c := Candidate{
			Name: t.Words("name"),
			Place: Place{
				LatitudeDeg:  t.Number("latitude_deg", -90, 90),
				LongitudeDeg: t.Number("longitude_deg", -180, 180),
			},
			AntennaM: t.Number("antenna_m", 0, 1000),
		}
		if line, there := lines[c.Name]; there {
			t.Fail("name", "give each site a name of its own", "name %q is in line %d already", c.Name, line)
		}
		lines[c.Name] = t.Line()
		all = append(all, c)
		if len(all) > maxCandidates {
			t.Fail("name", "", "there are more than %d sites", maxCandidates)
		}
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	return all, nil
}

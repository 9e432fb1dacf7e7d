package terrain

import (
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

func TestReadCandidates(t *testing.T) {
	got, err := ReadCandidates(strings.NewReader("antenna_m,name, latitude_deg,longitude_deg\n# by the lake\n1.5,Lee farm,58.3,-14.25\n"), "sites.csv")
	want := []Candidate{{"Lee farm", Place{58.3, -14.25}, 1.5}}
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Error(err, diff)
	}
	for text, want := range map[string]string{
		"name,latitude_deg,longitude_deg\na,1,2\n":                        `sites.csv:1:1: column "antenna_m" is missing`,
		"name,latitude_deg,longitude_deg,antenna_m\na,91,2,3\n":           `sites.csv:2:3: latitude_deg is "91", want a number of degrees, -90 to 90`,
		"name,latitude_deg,longitude_deg,antenna_m\na,1,2,3\na,2,2,3\n":   `sites.csv:3:1: name "a" is in line 2 already`,
		"name,latitude_deg,longitude_deg,antenna_m\n,1,2,3\n":             `sites.csv:2:1: name is empty`,
		"name,latitude_deg,longitude_deg,antenna_m\na,1,2,-1\n":           `sites.csv:2:7: antenna_m is "-1", want a number of m, 0 to 1000`,
		"name,latitude_deg,longitude_deg,antenna_m,colour\na,1,2,3,b\n":   `sites.csv:1:43: unknown column "colour"`,
		"name,latitude_deg,longitude_deg,antenna_m\na,1,2,3\nb,NaN,2,3\n": `sites.csv:3:3: latitude_deg is "NaN", want a number of degrees, -90 to 90`,
	} {
		_, err := ReadCandidates(strings.NewReader(text), "sites.csv")
		if !errors.As(err, new(*FileError)) || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// What is read and written again is read as the same, all of it in range and
// printable; what is refused is refused with a place.
func FuzzReadCandidates(f *testing.F) {
	f.Add("name,latitude_deg,longitude_deg,antenna_m\nLee farm,58.3,14.25,1.5\nHill,-90,180,0\n")
	f.Add("antenna_m,name,latitude_deg,longitude_deg\n1e1,\"a\x1b[31m,b\",0x1p2,-0\n")
	f.Add("name,latitude_deg\na,1\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := ReadCandidates(strings.NewReader(text), "f")
		if err != nil {
			if all != nil {
				t.Errorf("%v beside %v", all, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		_ = w.Write([]string{"latitude_deg", "longitude_deg", "antenna_m", "name"}) // a Builder never fails
		number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
		for _, c := range all {
			if c.check() != nil || !(c.AntennaM >= 0 && c.AntennaM <= 1000) || c.Name == "" || !testtable.Printable(c.Name) {
				t.Fatalf("%+v", c)
			}
			_ = w.Write([]string{number(c.LatitudeDeg), number(c.LongitudeDeg), number(c.AntennaM), c.Name})
		}
		w.Flush()
		again, err := ReadCandidates(strings.NewReader(b.String()), "f")
		if diff := cmp.Diff(all, again); err != nil || diff != "" {
			t.Error(err, diff)
		}
	})
}

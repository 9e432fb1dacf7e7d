package radio

import (
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

func TestReadPeaks(t *testing.T) {
	seen, err := ReadSeen(strings.NewReader("# from the meadow\nlow_mhz,high_mhz,level_dbm,azimuth_deg,attenuator_db,preamplifier\n"+
		"470,478,-31.5,350,,in\n470,478,-42,350,10,in\n446.1,446.1,-60,,,\n"), "s.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := Seen{Absolute: true, Peaks: []Peak{
		{Setting{Given(350), 0, "in"}, 470, 478, -31.5}, {Setting{Given(350), 10, "in"}, 470, 478, -42}, {Setting{}, 446.1, 446.1, -60},
	}}
	if diff := cmp.Diff(want, seen); diff != "" {
		t.Error(diff)
	}
}

func TestReadSweeps(t *testing.T) {
	seen, err := ReadSeen(strings.NewReader("level_db,frequency_mhz,attenuator_db\n3,471,\n1,470,0\n-9,470,10\n2,470.5,0\n"), "s.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := Seen{Sweeps: []Sweep{
		{Points: []Point{{470, 1}, {470.5, 2}, {471, 3}}}, {Setting{AttenuatorDB: 10}, []Point{{470, -9}}},
	}}
	if diff := cmp.Diff(want, seen); diff != "" {
		t.Error(diff)
	}
	if seen.Unit() != "dB" {
		t.Error(seen.Unit())
	}
}

func TestReadSeenRefuses(t *testing.T) {
	const peaks, spectrum = "low_mhz,high_mhz,level_db\n", "frequency_mhz,level_db\n"
	many := "frequency_mhz,level_db,azimuth_deg\n"
	for i := range maxSweeps + 1 {
		many += fmt.Sprintf("470,1,%d\n", i)
	}
	for text, want := range map[string]string{
		"low_mhz,level_db\n470,1\n":                       `s.csv:2:1: column "high_mhz" is missing`,
		"frequency_mhz,high_mhz,level_db\n470,478,1\n":    `s.csv:2:5: "high_mhz" is of no use beside "frequency_mhz"`,
		"frequency_mhz,low_mhz,level_db\n":                `s.csv:1:1: both "frequency_mhz" and "low_mhz" are there, want one`,
		"frequency_mhz\n":                                 `s.csv:1:1: column "level_db" or "level_dbm" is missing`,
		peaks + "478,470,1\n":                             "s.csv:2:5: high_mhz is 470, below low_mhz, 478",
		peaks + "470,478,lo\x1bud\n":                      `s.csv:2:9: level_db is "loud", want a number of dB, -300 to 300`,
		spectrum + "470,1\n471,1\n470,2\n":                "s.csv:4:1: 470 MHz at the same setting is in line 2 already",
		"frequency_mhz,level_db,preamplifier\n470,1,on\n": `s.csv:2:7: preamplifier is "on", want in, out or nothing`,
		many: "s.csv:102:1: more than 100 settings of antenna and receiver",
		"low_mhz,high_mhz,level_db\n" + strings.Repeat("1,2,3\n", maxPeaks+1): "s.csv:2002:1: more than 2000 signals",
	} {
		_, err := ReadSeen(strings.NewReader(text), "s.csv")
		var fault *FileError
		if !errors.As(err, &fault) || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// write writes what was seen as ReadSeen reads it, with all digits.
func write(t *testing.T, s Seen) string {
	t.Helper()
	var b strings.Builder
	w := csv.NewWriter(&b)
	num := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	row := func(set Setting, cells ...string) {
		azimuth := ""
		if set.AzimuthDeg.Known {
			azimuth = num(set.AzimuthDeg.Value)
		}
		_ = w.Write(append(cells, azimuth, num(set.AttenuatorDB), set.Preamplifier)) // a Builder never fails
	}
	if len(s.Sweeps) > 0 {
		_ = w.Write([]string{"frequency_mhz", s.column(), "azimuth_deg", "attenuator_db", "preamplifier"})
	} else {
		_ = w.Write([]string{"low_mhz", "high_mhz", s.column(), "azimuth_deg", "attenuator_db", "preamplifier"})
	}
	for _, p := range s.Peaks {
		row(p.Setting, num(p.LowMHz), num(p.HighMHz), num(p.Level))
	}
	for _, sweep := range s.Sweeps {
		for _, p := range sweep.Points {
			row(sweep.Setting, num(p.MHz), num(p.Level))
		}
	}
	w.Flush()
	return b.String()
}

// What is read and written again is read as the same, and sweeps rise.
func FuzzReadSeen(f *testing.F) {
	f.Add("low_mhz,high_mhz,level_dbm,azimuth_deg,attenuator_db,preamplifier\n470,478,-31.5,350,,in\n1e2,1e2,-0,,10,out\n")
	f.Add("frequency_mhz,level_db,attenuator_db\n470,1,\n471,2,0\n470,-9,10\n")
	f.Add("frequency_mhz,level_db\n1,2\x1b[31m\n")
	f.Fuzz(func(t *testing.T, text string) {
		seen, err := ReadSeen(strings.NewReader(text), "s.csv")
		if err != nil {
			if len(seen.Peaks)+len(seen.Sweeps) > 0 {
				t.Errorf("%v beside %v", seen, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		for _, s := range seen.Sweeps {
			for i := range s.Points[1:] {
				if !(s.Points[i].MHz < s.Points[i+1].MHz) {
					t.Fatalf("%v", s.Points)
				}
			}
			o := s.Occupied()
			for _, b := range o.Bands {
				if !(b.LowMHz < b.HighMHz) {
					t.Fatalf("%+v", b)
				}
			}
		}
		again, err := ReadSeen(strings.NewReader(write(t, seen)), "s.csv")
		if err != nil {
			t.Fatalf("%v in\n%s", err, write(t, seen))
		}
		if diff := cmp.Diff(seen, again); diff != "" {
			t.Error(diff)
		}
	})
}

func BenchmarkReadSpectrum100k(b *testing.B) {
	var text strings.Builder
	text.WriteString("frequency_mhz,level_db\n")
	for i := range 100_000 {
		fmt.Fprintf(&text, "%.3f,%.2f\n", 400+float64(i)*0.01, -90+float64(i%7))
	}
	for b.Loop() {
		if _, err := ReadSeen(strings.NewReader(text.String()), "s.csv"); err != nil {
			b.Fatal(err)
		}
	}
}

package terrain

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

func TestReadSkyline(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []Point
	}{
		{"degrees", "azimuth_deg,elevation_deg\n350,20\n10,10.5\n", []Point{{10, 10.5}, {350, 20}}},
		{"fists", "\xef\xbb\xbf# from the gate\r\nfists, azimuth_deg\r\n2, 350\r\n# the oak\r\n\r\n0.5,360\r\n-0.5,90\r\n", []Point{{0, 4.75}, {90, -4.75}, {350, 19}}},
		{"quoted", "\"azimuth_deg\",\"elevation_deg\"\n\"12\",\"90\"\n", []Point{{12, 90}}},
		{"no point", "azimuth_deg,elevation_deg\n", nil},
	} {
		got, err := ReadSkyline(strings.NewReader(c.text), "s.csv", 9.5)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if diff := cmp.Diff(c.want, got.Points()); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestReadSkylineRefuses(t *testing.T) {
	const head = "azimuth_deg,elevation_deg\n"
	const columnAdvice = "the columns are azimuth_deg, elevation_deg or fists"
	for _, c := range []struct{ name, text, want, hint string }{
		{"empty", "", "s.csv:1:1: empty, want a line of column names", columnAdvice},
		{"only comments", "# nothing\n", "s.csv:1:1: empty, want a line of column names", columnAdvice},
		{"unknown column", "azimuth_deg,height_m\n", `s.csv:1:13: unknown column "height_m"`, columnAdvice},
		{"twice", "azimuth_deg,azimuth_deg\n", `s.csv:1:13: column "azimuth_deg" is there twice`, columnAdvice},
		{"no azimuth", "fists\n2\n", `s.csv:1:1: column "azimuth_deg" is missing`, columnAdvice},
		{"no elevation", "azimuth_deg\n2\n", `s.csv:1:1: column "elevation_deg" or "fists" is missing`, columnAdvice},
		{"both", "azimuth_deg,fists,elevation_deg\n", `s.csv:1:1: both "elevation_deg" and "fists" are there, want one`, columnAdvice},
		{"short line", head + "1,2\n3\n", "s.csv:3:1: 1 cells, want 2 as in the line of column names", ""},
		{"long line", head + "1,2,3\n", "s.csv:2:3: 3 cells, want 2 as in the line of column names", ""},
		{"azimuth", head + "1,2\n361,2\n", `s.csv:3:1: azimuth_deg is "361", want a number of degrees, 0 to 360`, ""},
		{"negative azimuth", head + "-1,2\n", `s.csv:2:1: azimuth_deg is "-1", want a number of degrees, 0 to 360`, ""},
		{"no number", head + "north,2\n", `s.csv:2:1: azimuth_deg is "north", want a number of degrees, 0 to 360`, ""},
		{"NaN", head + "NaN,2\n", `s.csv:2:1: azimuth_deg is "NaN", want a number of degrees, 0 to 360`, ""},
		{"empty cell", head + "12,\n", `s.csv:2:4: elevation_deg is "", want a number of degrees, -5 to 90`, ""},
		{"elevation", head + "12,91\n", `s.csv:2:4: elevation_deg is "91", want a number of degrees, -5 to 90`, ""},
		{"no elevation known", head + "12,nan\n", `s.csv:2:4: elevation_deg is "nan", want a number of degrees, -5 to 90`, ""},
		{"low", head + "12,-5.5\n", `s.csv:2:4: elevation_deg is "-5.5", want a number of degrees, -5 to 90`, ""},
		{"fists", "azimuth_deg,fists\n12,9.1\n", `s.csv:2:4: fists is "9.1", want a number of fists, -0.5 to 9`, ""},
		{"twice there", head + "0,1\n90,2\n360,3\n", "s.csv:4:1: azimuth_deg 360 is in line 2 already", "keep one of the two"},
		{"open quote", head + "1,\"2\n", `s.csv:2:6: not CSV: extraneous or missing " in quoted-field`, ""},
		{"control characters", head + "\x1b]0;x\x07,1\n", `s.csv:2:1: azimuth_deg is "]0;x", want a number of degrees, 0 to 360`, ""},
		{"long cell", head + strings.Repeat("9", 99) + ",1\n", `s.csv:2:1: azimuth_deg is "` + strings.Repeat("9", 40) + `...", want a number of degrees, 0 to 360`, ""},
		{"endless", head + strings.Repeat("#", maxSkylineFile), "s.csv:1:1: more than 1 MiB: not a skyline", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := ReadSkyline(strings.NewReader(c.text), "s.csv", 10)
			var fault *FileError
			if s.Points() != nil || !errors.As(err, &fault) || err.Error() != c.want || fault.Hint() != c.hint {
				t.Fatalf("%v, %v, want error %q", s, err, c.want)
			}
		})
	}
	if _, err := ReadSkyline(strings.NewReader("azimuth_deg,fists\n"), "s.csv", 0); err == nil || err.Error() != "s.csv:1:13: a fist of 0 degrees is not possible" {
		t.Errorf("no fist: %v", err)
	}
	broken := io.MultiReader(strings.NewReader(head), iotest.ErrReader(io.ErrClosedPipe))
	if _, err := ReadSkyline(broken, "s.csv", 10); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("%v, want the reader's error", err)
	}
}

// What is read is written and read again the same; what isn't, is refused in
// one printable line with a place.
func FuzzReadSkyline(f *testing.F) {
	f.Add("azimuth_deg,elevation_deg\n350,20\n10,10.5\n")
	f.Add("fists,azimuth_deg\n2,350\n0.5,360\n# x\n")
	f.Add("azimuth_deg,elevation_deg\n-0,-0\n1e-300,5e-324\n")
	f.Add("azimuth_deg,elevation_deg\n0,\"1\n")
	f.Add("azimuth_deg,height\x1b\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadSkyline(strings.NewReader(text), "s.csv", 10)
		if err != nil {
			testtable.Fault(t, text, err)
			return
		}
		last := -1.0
		for _, p := range s.Points() {
			if p.check() != nil || p.AzimuthDeg <= last || p.AzimuthDeg >= 360 {
				t.Errorf("%+v after %v", p, last)
			}
			last = p.AzimuthDeg
		}
		var out bytes.Buffer
		if err := WriteSkyline(&out, s); err != nil {
			t.Fatal(err)
		}
		again, err := ReadSkyline(&out, "again.csv", 10)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(s.Points(), again.Points()); diff != "" {
			t.Error(diff)
		}
	})
}

package track

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestParseSite(t *testing.T) {
	for _, c := range []struct {
		text           string
		lat, lon, high float64
	}{
		{"57.27,-5.71", 57.27, -5.71, 0},
		{" 57.27 , -5.71 , 40 ", 57.27, -5.71, 40},
		{"-90,180,-12.5", -90, 180, -12.5},
		{"+1e1,0,1e3", 10, 0, 1000},
		// Locators by hand from the grid's definition: J is the tenth letter,
		// so JJ00 begins at 0° 0°; a 4-character square is 2° by 1°.
		{"JJ00", 0.5, 1, 0},
		{"AA00aa", -90 + 1.0/48, -180 + 1.0/24, 0},
		{"rr99XX", 90 - 1.0/48, 180 - 1.0/24, 0},
		{"IO77wf", 57 + 5.5/24, -6 + 22.5/12, 0},
		{"io77WF55", 57 + 5.55/24, -6 + 22.55/12, 0},
		{"JJ00aa00aa", 1.0 / 24 / 10 / 48, 1.0 / 12 / 10 / 48, 0},
	} {
		got, err := ParseSite(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(got.LatitudeDeg-c.lat) > 1e-9 || math.Abs(got.LongitudeDeg-c.lon) > 1e-9 || got.HeightM != c.high {
			t.Errorf("%q is %+v, want %v %v %v", c.text, got, c.lat, c.lon, c.high)
		}
	}
}

func TestParseSiteErrors(t *testing.T) {
	for text, want := range map[string]string{
		"":             "neither LAT,LON[,HEIGHT_M] nor a locator",
		"91,0":         "latitude 91 is outside -90 to 90",
		"0,-180.5":     "longitude -180.5 is outside -180 to 180",
		"0,0,90000":    "height 90000 is outside -500 to 10000",
		"NaN,0":        `latitude "NaN" is not a decimal number`,
		"0,Inf":        `longitude "Inf" is not a decimal number`,
		"0,1e999":      `longitude "1e999" is not a decimal number`,
		"0x10,0":       `latitude "0x10" is not a decimal number`,
		"57.27N,5.71W": `latitude "57.27N" is not a decimal number`,
		"57,27,5,71":   "4 numbers, want LAT,LON or LAT,LON,HEIGHT_M",
		"57,":          `longitude "" is not a decimal number`,
		"IO77w":        "want 4, 6, 8 or 10 characters",
		"IO77wf41xx22": "want 4, 6, 8 or 10 characters",
		"SO77":         `character 1 is "S", want A to R`,
		"IOX7":         `character 3 is "X", want 0 to 9`,
		"IO77wy":       `character 6 is "y", want A to X`,
		"\x1b[2J":      `\x1b`,
		"ııOO77":       "is not a locator",
	} {
		_, err := ParseSite(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want %q", text, err, want)
		}
	}
}

func TestLocator(t *testing.T) {
	for _, c := range []struct {
		site Site
		want string
	}{
		{Site{LatitudeDeg: 57.27, LongitudeDeg: -5.71}, "IO77dg"},
		{Site{LatitudeDeg: -90, LongitudeDeg: -180}, "AA00aa"},
		{Site{LatitudeDeg: 90, LongitudeDeg: 180}, "RR99xx"},
		{Site{}, "JJ00aa"},
		{Site{LatitudeDeg: math.NaN()}, ""},
	} {
		if got := c.site.Locator(); got != c.want {
			t.Errorf("%+v is in %q, want %q", c.site, got, c.want)
		}
	}
}

// What parses is in range, prints and parses as itself again, and lies within
// its own locator; what doesn't parse gives an error of one printable line.
func FuzzParseSite(f *testing.F) {
	for _, text := range []string{"57.27,-5.71,40", "IO77wf", "io77wf41xx", "91,0", "ııOO77", ",,", "-0,1e-300", "\x1b,1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		site, err := ParseSite(text)
		if err != nil {
			for _, c := range err.Error() {
				if c < ' ' || c == 0x7f {
					t.Fatalf("control character in %q", err)
				}
			}
			return
		}
		if err := site.Check(); err != nil {
			t.Fatal(err)
		}
		again, err := ParseSite(fmt.Sprintf("%v,%v,%v", site.LatitudeDeg, site.LongitudeDeg, site.HeightM))
		if err != nil || again != site {
			t.Fatalf("%+v came back as %+v, %v", site, again, err)
		}
		square, err := ParseSite(site.Locator())
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(square.LatitudeDeg-site.LatitudeDeg) > 1.0/48+1e-9 || math.Abs(square.LongitudeDeg-site.LongitudeDeg) > 1.0/24+1e-9 {
			t.Fatalf("%+v is not in its own square %s", site, site.Locator())
		}
	})
}

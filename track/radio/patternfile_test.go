package radio

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

const measured = "frequency_mhz,angle_deg,gain_dbi\n600,0,4\n600,180,-2\n500,90,-8\n500,0,2\n500,180,-4\n"

func TestPattern(t *testing.T) {
	p, err := ReadPattern(strings.NewReader(measured), "p.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		mhz, off, low, high float64
		known               bool
	}{
		{500, 0, 2, 2, true}, {500, 45, -3, -3, true}, {500, 135, -6, -6, true}, {600, 90, 1, 1, true},
		{550, 90, -8, 1, true}, {499, 0, 0, 0, false}, {601, 0, 0, 0, false}, {550, 181, 0, 0, false},
	} {
		g, known := p.GainDBi(c.mhz, c.off)
		if known != c.known {
			t.Errorf("%v MHz, %v°: known %v", c.mhz, c.off, known)
		}
		if known {
			spans(t, "gain", g, c.low, c.high, 1e-12)
		}
	}
	if _, known := (*Pattern)(nil).GainDBi(500, 0); known {
		t.Error("no pattern knows something")
	}
	a := Antenna{GainDBi: Given(12), BeamwidthEDeg: 40, BeamwidthHDeg: 40, Pattern: p}
	if g, directed := a.UnwantedDBi(437, 500, 90); !directed || g != Exactly(-8) {
		t.Errorf("with a table: %+v, %v", g, directed)
	}
}

func TestPatternRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"frequency_mhz,angle_deg\n":           `p.csv:1:1: column "gain_dbi" is missing`,
		measured + "500,90,1\n":               "p.csv:7:5: 90 degrees at 500 MHz are in line 4 already",
		measured + "500,181,1\n":              `p.csv:7:5: angle_deg is "181", want a number of degrees, 0 to 180`,
		measured + "0,1,1\n":                  `p.csv:7:1: frequency_mhz is "0", want a number of MHz, 0.001 to 1000000`,
		measured + "500,1,loud\x1b\n":         `p.csv:7:7: gain_dbi is "loud", want a number of dBi, -100 to 60`,
		strings.Repeat("#", maxPatternFile+2): "p.csv:1:1: more than 4 MiB: not an antenna's pattern",
	} {
		_, err := ReadPattern(strings.NewReader(text), "p.csv")
		var fault *FileError
		if !errors.As(err, &fault) || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// What is read and written again is read as the same.
func FuzzReadPattern(f *testing.F) {
	f.Add(measured)
	f.Add("#x\nangle_deg,gain_dbi,frequency_mhz\n1e1,-0,4.5e2\n")
	f.Add("frequency_mhz,angle_deg,gain_dbi\n1,2,x\x1b[31m\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ReadPattern(strings.NewReader(text), "p.csv")
		if err != nil {
			if p != nil {
				t.Errorf("%v beside %v", p, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		var b strings.Builder
		b.WriteString("frequency_mhz,angle_deg,gain_dbi\n")
		for i, mhz := range p.frequenciesMHz {
			for _, g := range p.cuts[i] {
				fmt.Fprintf(&b, "%v,%v,%v\n", mhz, g.angleDeg, g.dBi)
			}
		}
		again, err := ReadPattern(strings.NewReader(b.String()), "p.csv")
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if diff := cmp.Diff(p, again, cmp.AllowUnexported(Pattern{}, gain{})); diff != "" {
			t.Error(diff)
		}
		for i, mhz := range p.frequenciesMHz {
			for _, g := range p.cuts[i] {
				if got, known := p.GainDBi(mhz, g.angleDeg); !known || got != Exactly(g.dBi) {
					t.Fatalf("%v MHz, %v°: %v, %v, want %v", mhz, g.angleDeg, got, known, g.dBi)
				}
			}
		}
	})
}

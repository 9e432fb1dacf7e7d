package radio

import (
	"math"
	"strings"
	"testing"
)

// slope loses 10 dB an octave from 100 MHz, and may lose spread more.
type slope struct{ spread float64 }

func (s slope) LossDB(mhz float64) Range {
	db := 10 * math.Log2(mhz/100)
	return Range{db, db + s.spread}
}

func TestSample(t *testing.T) {
	points := Sample(slope{}, 100, 400, 5)
	for i, p := range points {
		near(t, "loss", p.LossDB.Low, 5*float64(i), 1e-9) // half octaves
	}
	near(t, "last", points[4].MHz, 400, 1e-9)
	if len(Sample(slope{}, 1, 2, 0)) != 2 {
		t.Error("fewer than two points")
	}
}

// A straight line over two octaves, drawn by hand.
func TestPlot(t *testing.T) {
	got := strings.Join(Plot(slope{}, 100, 400, 20, 21, 5, []PlotMark{{100, 100, 'w'}, {195, 205, 'x'}}), "\n")
	want := strings.Join([]string{
		"   0 |***",
		"     |   *****",
		"  10 |        *****",
		"     |             *****",
		"  20 |                  ***",
		"  dB +w---------x----------",
		" MHz 100  141  200  283 400",
	}, "\n")
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestPlotKeepsItsFrame(t *testing.T) {
	for columns := 0; columns < 120; columns += 7 {
		for rows := 0; rows < 30; rows += 3 {
			lines := Plot(slope{spread: 12}, 30, 3000, 60, columns, rows, []PlotMark{{1, 1e5, 'x'}})
			if len(lines) != max(rows, 4)+2 {
				t.Errorf("%d rows: %d lines", rows, len(lines))
			}
			for i, l := range lines {
				if len(l) > max(columns, 20)+plotMargin || strings.ContainsFunc(l, func(r rune) bool { return r < ' ' || r > '~' }) {
					t.Errorf("%d columns: %q", columns, l)
				}
				if i < len(lines)-2 && !strings.Contains(l, "|") {
					t.Errorf("no axis in %q", l)
				}
			}
			if !strings.Contains(strings.Join(lines, ""), ":") {
				t.Error("what may be isn't drawn")
			}
		}
	}
	lines := (FilterIdea{Ladder: design(t, plan(LowPass, Chebyshev, 5, 0, 460))}).Plot(mast, 70, 16)
	marks := lines[len(lines)-2]
	if strings.Count(marks, "w") < 1 || strings.Count(marks, "x") < 4 || strings.Index(marks, "w") > strings.Index(marks, "x") {
		t.Error(marks)
	}
}

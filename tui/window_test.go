package tui

import (
	"strings"
	"testing"

	"foreaim/track/aim"
)

// view is a window of 48 columns, 240° wide, facing north, a fist a row.
var view = window{glyphs: unicodeGlyphs, columns: 48, rows: 9, columnDeg: 5, fistDeg: 10, ahead: true}

// Places worked out by hand: 5° a column from the middle one, 24; 5° a half row.
func TestPlace(t *testing.T) {
	for _, c := range []struct {
		azimuth, elevation float64
		want               spot
		ok                 bool
	}{
		{0, 0, spot{24, 0}, true},
		{5, 4.9, spot{25, 0}, true},
		{355, 5, spot{23, 1}, true},
		{240, 45, spot{0, 9}, true}, // 120° left
		{115, 90, spot{47, 17}, true},
		{120, 10, spot{48, 2}, false},
		{0, -0.1, spot{}, false},
	} {
		got, ok := view.place(aim.Direction{AzimuthDeg: c.azimuth, ElevationDeg: c.elevation})
		if got != c.want || ok != c.ok {
			t.Errorf("place(%g, %g) = %v %v, want %v %v", c.azimuth, c.elevation, got, ok, c.want, c.ok)
		}
	}
}

// What is outside a narrow window is marked at the edge that is nearer, with
// the turn.
func TestEdgeMarks(t *testing.T) {
	for _, c := range []struct {
		azimuth float64
		want    string // in the row of 20 to 30 degrees
	}{
		{130, "1 130°▶"},
		{179, "1 179°▶"},
		{181, "◀1 179°"},
		{230, "◀1 130°"},
	} {
		page := view.draw(sky{holds: []aim.Direction{{AzimuthDeg: c.azimuth, ElevationDeg: 25}}}).plain()
		row := strings.Split(page, "\n")[6]
		atEdge := strings.HasPrefix(strings.TrimPrefix(row, "20 "), c.want) || strings.HasSuffix(row, c.want)
		if !atEdge {
			t.Errorf("azimuth %g: row %q, want %q at an edge", c.azimuth, row, c.want)
		}
	}
}

// The beam's ring is as wide on the window as its circle on the sphere: 50° at
// 0° of elevation is 10 columns, at 60° about twice that (asin(sin 25°/cos 60°)
// is 57.7°, so 115° or 23 columns).
func TestBeamWidensUpwards(t *testing.T) {
	width := func(elevation float64) int {
		page := newCanvas(72, 9, unicodeGlyphs)
		w := view
		w.columns = 72
		w.drawBeam(page, aim.Direction{ElevationDeg: elevation}.Circle(25, 540))
		left, right := 72, 0
		for x := range 72 {
			for y := range 9 {
				if page.at(x, y).ink == beam {
					left, right = min(left, x), max(right, x)
				}
			}
		}
		return right - left
	}
	for elevation, want := range map[float64]int{0: 10, 60: 24} {
		if got := width(elevation); got < want-1 || got > want {
			t.Errorf("the beam at %g° spans %d columns, want %d or one less", elevation, got, want)
		}
	}
}

// Near the zenith a row of words stands for the hold.
func TestOverheadWords(t *testing.T) {
	page := view.draw(sky{holds: []aim.Direction{{AzimuthDeg: 44, ElevationDeg: 84}}}).plain()
	if !strings.Contains(page, "straight up, top of the boom towards north-east") {
		t.Errorf("no words near the zenith:\n%s", page)
	}
}

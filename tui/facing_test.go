package tui

import (
	"math"
	"strings"
	"testing"

	"foreaim/track/north"
)

func TestFacingEntry(t *testing.T) {
	field, err := north.At(meadow.LatitudeDeg, meadow.LongitudeDeg, meadow.HeightM, start)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		keys    string
		want    float64
		problem string
	}{
		{"true", "f 1 4 3 enter", 143, ""},
		{"a fraction", "f 3 5 9 . 5 enter", 359.5, ""},
		{"a decimal comma", "f 1 2 , 5 enter", 12.5, ""},
		{"negative", "f - 5 enter", 150, "0 to 360"},
		{"a whole turn is north", "f 3 6 0 enter", 0, ""},
		{"magnetic", "f 1 4 3 m enter", 143 + field.DeclinationDeg, ""},
		{"magnetic and back", "f 1 m 0 m enter", 10, ""},
		{"corrected", "f 1 4 backspace 5 enter", 15, ""},
		{"left", "f 1 4 esc", 150, ""},
		{"nudged", "left ] ] right right", 171, ""},
		{"nudged through north", "f 5 enter [ left", 354, ""},
		{"too large", "f 3 6 1 enter", 150, "0 to 360"},
		{"nothing", "f enter", 150, "0 to 360"},
		{"no number", "f . . enter", 150, "0 to 360"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := picture(t, stories["move"], 80, 24)
			press(t, m, strings.Fields(c.keys)...)
			if math.Abs(m.facing.deg-c.want) > 1e-4 || !m.facing.known {
				t.Errorf("facing %v, want %v", m.facing, c.want)
			}
			if c.problem != "" && !strings.Contains(m.page.plain(), c.problem) {
				t.Errorf("%q is not on the screen:\n%s", c.problem, m.page.plain())
			}
		})
	}
}

// Outside the magnetic model's years nothing magnetic is shown or taken.
func TestNoDeclination(t *testing.T) {
	s := stories["move"]
	s.at += 27663 * orbitEvery // five years
	m := picture(t, s, 80, 24)
	press(t, m, "f", "9", "m", "enter")
	if m.facing.deg != 150 {
		t.Errorf("facing %v, want it unchanged at 150", m.facing.deg)
	}
	page := m.page.plain()
	if strings.Contains(page, "°M") || !strings.Contains(page, "no declination known") {
		t.Errorf("magnetic azimuths without a declination:\n%s", page)
	}
}

package tui

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"foreaim/track"
	"foreaim/track/north"
)

// The moments of finding north that the screens are checked in. Each opens the
// view and goes on.
var searches = map[string]struct {
	s   story
	way string // chosen
	do  []string
}{
	"day":   {finding(dateLine, sunTime, northOf(dateLine, "mast"), north.Landmark{Name: "well", LatitudeDeg: -16.5, LongitudeDeg: -179.9}), "sun's shadow", nil},
	"night": {finding(lowlands, starTime, northOf(lowlands, "mast")), "pole star", []string{"enter"}},
	"moon":  {finding(farNorth, moonTime), "moon's shadow", []string{"right"}},
	"fog":   {finding(meadow, noonTime, northMast), "mast", []string{"x", "left", "left", "enter", "right", "right", "right", "enter"}},
	"walk":  {finding(meadow, noonTime), "walk", []string{"enter"}},
	"typed": {finding(meadow, noonTime), "compass", []string{"enter", "3", "4"}},
	"pole":  {finding(track.Site{LatitudeDeg: 90}, noonTime), "pole star", nil},
	"none":  {stories["nosite"], "known azimuth", nil},
}

// northOf is a landmark 11 km north of a site.
func northOf(site track.Site, name string) north.Landmark {
	return north.Landmark{Name: name, LatitudeDeg: site.LatitudeDeg + 0.1, LongitudeDeg: site.LongitudeDeg}
}

func search(t *testing.T, name string, columns, rows int, change ...func(*Config)) *model {
	t.Helper()
	at := searches[name]
	m := picture(t, at.s, columns, rows, append(change, func(c *Config) { c.FacingKnown = false })...)
	press(t, m, "w")
	choose(t, m, at.way)
	press(t, m, at.do...)
	return m
}

// The screens were looked at before they were kept.
func TestFindingScreens(t *testing.T) {
	for name := range searches {
		for _, size := range [][2]int{{53, 20}, {80, 24}} {
			m := search(t, name, size[0], size[1])
			m.message = ""
			m.draw()
			golden(t, fmt.Sprintf("find-%s-%s", name, sizeName(size)), m.page.plain())
		}
	}
	golden(t, "find-day-80x24-ascii", search(t, "day", 80, 24, func(c *Config) { c.ASCII = true }).page.plain())
}

// Whole at every size, plain where ASCII is wanted, and with few things that ask
// for attention.
func TestFindingEverywhere(t *testing.T) {
	for name := range searches {
		m := search(t, name, 80, 24, func(c *Config) { c.Theme, c.ASCII = "light", true })
		for _, rows := range [...]int{1, 2, 3, 5, 8, 12, 14, 15, 16, 20, 24, 33, 34, 50, 100} {
			for _, columns := range [...]int{1, 2, 7, 10, 15, 29, 30, 31, 40, 53, 80, 110, 300} {
				m.Update(tea.WindowSizeMsg{Width: columns, Height: rows})
				checkPicture(t, m.picture, columns, rows)
				if i := strings.IndexFunc(m.picture, func(r rune) bool { return r > 0x7e }); i >= 0 {
					t.Errorf("byte above 0x7e: %q", m.picture[i:min(i+20, len(m.picture))])
				}
				if columns >= 10 && strings.TrimSpace(ansi.Strip(m.picture)) == "" {
					t.Errorf("nothing is shown")
				}
				if t.Failed() {
					t.Fatalf("%s at %d×%d:\n%s", name, columns, rows, m.page.plain())
				}
			}
		}
		for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
			m := search(t, name, size[0], size[1])
			m.message = ""
			m.draw()
			if n := attention(m.page); n > 7 || n < 1 {
				t.Errorf("%s at %v: %d things ask for attention:\n%s", name, size, n, m.page.plain())
			}
		}
	}
}

package tui

import (
	"strings"
	"testing"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// views are the ways to every view.
var views = map[string][]string{"pointing": nil, "passes": {"p"}, "satellites": {"s", "x"}, "help": {"?"}, "checks": {"c"}, "skyline": {"k", "+", "enter"}, "noise": {"x"}, "finding": {"x", "y", "y", "n"}, "entry": {"f", "3"}, "reception": {"h"}, "ground": {"g"}}

// onShelf is a catalogue whose first object fits an x.
func onShelf() (Catalogue, error) {
	c := fill(3)
	c.Add(lowSet("XYLEM", 80_001, "2026-999A"))
	return c, nil
}

// checkPicture checks that a picture is whole at a size: no line too wide, none
// too many, none broken, and nothing but text and SGR sequences.
func checkPicture(t *testing.T, picture string, columns, rows int) {
	t.Helper()
	lines := strings.Split(picture, "\n")
	if len(lines) > rows {
		t.Errorf("%d×%d: %d lines", columns, rows, len(lines))
	}
	for y, line := range lines {
		// The width is measured by another library than the one that cleans.
		if w := ansi.StringWidth(line); w > columns {
			t.Errorf("%d×%d: line %d is %d wide: %q", columns, rows, y, w, line)
		}
		text := ansi.Strip(line)
		if !utf8.ValidString(text) || strings.ContainsAny(text, "\x1b\r\t\a") {
			t.Errorf("%d×%d: line %d is broken: %q", columns, rows, y, line)
		}
		if utf8.RuneCountInString(text) != ansi.StringWidth(text) {
			t.Errorf("%d×%d: line %d holds runes that are not one cell wide: %q", columns, rows, y, line)
		}
	}
}

func TestEverySize(t *testing.T) {
	t.Parallel()
	var sizes [][2]int
	for rows := 1; rows <= 30; rows++ {
		for columns := 1; columns <= 60; columns++ {
			sizes = append(sizes, [2]int{columns, rows})
		}
	}
	for _, rows := range [...]int{1, 5, 8, 23, 24, 38, 40, 41, 60, 99, 100} {
		for columns := 61; columns <= 300; columns += 7 {
			sizes = append(sizes, [2]int{columns, rows})
		}
	}
	sizes = append(sizes, [2]int{300, 100})
	for shift, name := range [...]string{"move", "overhead", "before", "trouble", "sweep"} {
		for view, keys := range views {
			if (view == "noise" || view == "finding" || view == "skyline") && name != "move" {
				continue // the same over any pass
			}
			m := picture(t, stories[name], 80, 24, func(c *Config) { c.Theme, c.Catalogue = "dark", onShelf })
			press(t, m, keys...)
			for i, size := range sizes {
				// Every size comes in the first story, and of the simpler pages
				// and of the other stories every fifth, each time others.
				if (view != "pointing" || name != "move") && i%5 != shift {
					continue
				}
				m.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				checkPicture(t, m.picture, size[0], size[1])
				if strings.TrimSpace(ansi.Strip(m.picture)) == "" && (view == "pointing" || size[0] >= 10) {
					t.Errorf("%s, %s at %d×%d: nothing is shown", name, view, size[0], size[1])
				}
				if t.Failed() {
					t.Fatalf("story %s, view %s:\n%s", name, view, m.page.plain())
				}
			}
		}
	}
}

// The hold's azimuth and elevation and the countdown are on the first line of
// any screen that holds them: 201° true, 26° up, 25 s.
func TestTooSmall(t *testing.T) {
	for _, size := range [][2]int{{80, 1}, {40, 2}, {29, 24}, {12, 1}, {9, 3}} {
		m := picture(t, stories["move"], size[0], size[1])
		first := strings.Split(m.page.plain(), "\n")[0]
		rest := first
		for _, want := range [...]string{"201", "26", "25"} {
			_, after, ok := strings.Cut(rest, want)
			if !ok {
				t.Errorf("%d×%d: first line %q, want 201, 26 and 25 in it", size[0], size[1], first)
			}
			rest = after
		}
	}
}

// Without ASCII's help a terminal would show garbage for any byte above 0x7e.
func TestASCII(t *testing.T) {
	t.Parallel()
	for name, s := range stories {
		for view, keys := range views {
			m := picture(t, s, 80, 24, func(c *Config) { c.ASCII, c.Theme, c.Catalogue = true, "light", onShelf })
			press(t, m, keys...)
			for _, size := range [][2]int{{20, 5}, {53, 20}, {80, 24}, {120, 40}} {
				resize(t, m, size)
				if i := strings.IndexFunc(m.picture, func(r rune) bool { return r > 0x7e }); i >= 0 {
					t.Errorf("%s, %s, %v: byte above 0x7e: %q", name, view, size, m.picture[i:min(i+20, len(m.picture))])
				}
			}
		}
	}
}

// On a terminal without colour, bold or reverse the states differ in words.
func TestStatesAreWords(t *testing.T) {
	words := map[string]string{
		"move": "MOVE", "still": "KEEP STILL", "burst": "BURST NOW", "before": "NEXT PASS", "last": "NO BURST LEFT",
		"over": "PASS OVER", "sweep": "LISTEN", "nosite": "WAITING FOR A FIX", "nopass": "NO PASS", "trouble": "TROUBLE",
	}
	for name, word := range words {
		for _, size := range [][2]int{{53, 20}, {80, 24}} {
			m := picture(t, stories[name], size[0], size[1], func(c *Config) { c.Theme = "bare" })
			if strings.Contains(m.picture, "\x1b") {
				t.Errorf("%s: a bare terminal gets sequences", name)
			}
			begins := func(word string) bool { return strings.Contains(m.picture, "\n "+word) }
			if !begins(word) {
				t.Errorf("%s at %v: %q is not on the screen:\n%s", name, size, word, m.picture)
			}
			for other, foreign := range words {
				if other != name && begins(foreign) {
					t.Errorf("%s at %v: begins with %q as well", name, size, foreign)
				}
			}
		}
	}
	mono := picture(t, stories["move"], 80, 24, func(c *Config) { c.Theme = "mono" })
	if colours := strings.Count(mono.picture, "\x1b[3") + strings.Count(mono.picture, ";3") + strings.Count(mono.picture, "\x1b[9"); colours != 0 {
		t.Errorf("mono has %d colours", colours)
	}
}

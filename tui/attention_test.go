package tui

import (
	"testing"
	"time"

	"foreaim/track/outing"
)

// attention counts the things on a page that ask for attention: what is bold,
// reversed or a warning, in any theme. Cells of one kind that stand together,
// with a blank or two between, are one thing: a label with its number, a line of
// words. The lines of the picture (path, beam, skyline, ground) ask for nothing.
func attention(c *canvas) int {
	kind := func(x, y int) int {
		switch p := c.at(x, y); {
		case p.r == ' ' && (p.ink == strong || p.ink == digit || p.ink == warning):
			return 0
		case p.ink == strong || p.ink == digit:
			return 1
		case p.ink == block || p.ink == still || p.ink == burst:
			return 2
		case p.ink == goal:
			return 3
		case p.ink == warning:
			return 4
		}
		return 0
	}
	seen := make(map[[2]int]bool)
	var spread func(x, y int)
	spread = func(x, y int) {
		seen[[2]int{x, y}] = true
		reach := 3
		if c.at(x, y).ink == digit { // its strokes stand further apart
			reach = 6
		}
		for dy := -1; dy <= 1; dy++ {
			for dx := -reach; dx <= reach; dx++ {
				if at := [2]int{x + dx, y + dy}; !seen[at] && kind(x+dx, y+dy) == kind(x, y) {
					spread(x+dx, y+dy)
				}
			}
		}
	}
	things := 0
	for y := range c.rows {
		for x := range c.columns {
			if kind(x, y) != 0 && !seen[[2]int{x, y}] {
				things++
				spread(x, y)
			}
		}
	}
	return things
}

// An eye that comes back from the receiver finds seven things at most.
func TestSevenThings(t *testing.T) {
	const most = 7
	for name, s := range stories {
		for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
			for _, ascii := range []bool{false, true} {
				m := picture(t, s, size[0], size[1], func(c *Config) { c.ASCII = ascii })
				if n := attention(m.page); n > most || n < 1 {
					t.Errorf("%s at %v: %d things ask for attention, want 1 to %d:\n%s", name, size, n, most, m.page.plain())
				}
			}
		}
	}
}

// Seven are enough when everything goes wrong at once, too.
func TestSevenThingsInTrouble(t *testing.T) {
	voice, tones := new(listener), new(toneListener)
	voice.fail("no sound card")
	tones.fail("no player")
	s := spoken(stories["slow"], voice)
	change := s.change
	s.object.epoch = start.Add(-34 * 24 * time.Hour)
	s.change = func(c *Config) {
		change(c)
		c.Tones, c.Checks = tones, outing.DefaultItems()
	}
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		for _, keys := range [][]string{{" ", "n"}, {"x"}, {"x", "y"}, {"x", "y", "y", "n"}, {"["}, {"n", "l"}} {
			m := picture(t, s, size[0], size[1])
			press(t, m, keys...)
			m.message = "" // the answer to a key stays for some seconds only
			m.draw()
			if n := attention(m.page); n > 7 {
				t.Errorf("%v after %q: %d things ask for attention:\n%s", size, keys, n, m.page.plain())
			}
		}
	}
	// In a usual state an answer is among the seven.
	m := picture(t, stories["move"], 80, 24)
	press(t, m, " ")
	if n := attention(m.page); n > 7 {
		t.Errorf("%d things ask for attention after a mark:\n%s", n, m.page.plain())
	}
	// The hold's time comes in mid-test: what was unplugged is to be put back.
	s.at += 17 * time.Second
	s.reports[0] = goodReport(start.Add(s.at-90*time.Second), 90)
	for _, size := range [][2]int{{53, 20}, {80, 24}} {
		m := picture(t, s, size[0], size[1])
		press(t, m, "x", "y")
		if len(m.scene.noise.aside) == 0 {
			t.Fatalf("the noise test goes on 8 s before the burst:\n%s", m.page.plain())
		}
		m.message = ""
		m.draw()
		if n := attention(m.page); n > 7 {
			t.Errorf("%v in mid-test: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
	}
}

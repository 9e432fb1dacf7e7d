package tui

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
)

// shelf is a catalogue in memory; making a target takes some time.
type shelf struct {
	elements.Catalogue
	takes time.Duration
	fails error
}

func (s *shelf) Target(set elements.Set) (Target, error) {
	time.Sleep(s.takes)
	if s.fails != nil {
		return Target{}, s.fails
	}
	o, err := track.NewOrbit(set)
	return Target{Orbit: o, Name: set.Name, Schedule: everyHalfMinute, File: "shelf.json"}, err
}

// lowSet is an invented object in a low orbit.
func lowSet(name string, number int, designator string) elements.Set {
	return elements.Set{
		Name: name, CatalogueNumber: number, Designator: designator, Classification: 'U', Epoch: start.Add(-30 * time.Hour),
		MeanMotionRevPerDay: 15.2, InclinationDeg: 97.5, Eccentricity: 0.001, NodeDeg: float64(number % 360), BStar: 1e-4,
	}
}

// opened is a story with a catalogue.
func opened(s story, c *shelf, takes time.Duration, err error) story {
	change := s.change
	s.change = func(config *Config) {
		if change != nil {
			change(config)
		}
		config.Catalogue = func() (Catalogue, error) {
			time.Sleep(takes)
			return c, err
		}
	}
	return s
}

func fill(n int) *shelf {
	c := &shelf{takes: 3 * time.Second}
	for i := range n {
		c.Add(lowSet(fmt.Sprintf("PEBBLE %d", i+1), 70_001+i, fmt.Sprintf("2026-%03d%c", 801+i/26, 'A'+i%26)))
	}
	return c
}

// An object of the catalogue is found by part of its name, made ready beside
// the frames, pointed at, recorded, and marked by itself.
func TestChooseFromCatalogue(t *testing.T) {
	c := fill(300)
	c.Add(lowSet("SHIN\x1b[2JGLE\n2", 123_456, "2026-901C"))
	d := newDisk()
	play(t, opened(recorded(d), c, 4*time.Second, nil), 80, 24, func(p *player) {
		p.press(" ", "s")
		p.want("Satellite: _", "LARKSPUR-2", "Reading the catalogue")
		p.press("s", "h", "i") // typed before it is there
		p.want("Satellite: shi_", "Reading the catalogue")
		p.wait(4 * time.Second)
		p.want("1 fits", ">SHIN[2JGLE 2", "123456  2026-901C", "2026-06-09")
		p.press("\r")
		p.want("Reading the orbit of SHIN[2JGLE 2 …")
		p.wait(4 * time.Second)
		p.want("Pointing at SHIN[2JGLE 2", "NEXT PASS")
		p.miss("1 heard")
		p.press("p")
		p.want("Passes of SHIN[2JGLE 2 (2 of 2)")
		p.press("s", "\r") // the one after the last is the first
		p.want("Passes of LARKSPUR-2 (1 of 2)")
		p.press("\x1b")
		p.wait(time.Second)
		p.want("1 heard")
		p.press("s", "1", "2", "3", "4", "5", "6", "\r") // now it is a target: no wait
		p.want("Pointing at SHIN[2JGLE 2")
		p.wait(time.Second)
	})
	var about, passes []string
	for _, r := range d.log(t).Records {
		switch e := r.Entry.(type) {
		case outing.ElementsEntry:
			about = append(about, fmt.Sprint(e.CatalogueNumber, " ", e.Satellite, " ", e.File))
		case outing.PassEntry:
			passes = append(passes, fmt.Sprint(e.CatalogueNumber, " ", e.Satellite, " ", e.PeriodS.Value))
		}
	}
	const larkspur, shingle = "0 LARKSPUR-2 ", "123456 SHIN[2JGLE 2 "
	if got, want := strings.Join(about, ", "), larkspur+"larks.tle, "+shingle+"shelf.json, "+larkspur+"larks.tle, "+shingle+"shelf.json"; got != want {
		t.Errorf("recorded elements\n%s, want\n%s", got, want)
	}
	if got, want := strings.Join(passes, ", "), larkspur+"30, "+shingle+"30, "+larkspur+"30, "+shingle+"30"; got != want {
		t.Errorf("recorded passes\n%s, want\n%s", got, want)
	}
	if strings.ContainsAny(d.disk.String(), "\x1b") {
		t.Error("the record holds an escape")
	}
}

// Whatever is typed is text there: no letter leaves, asks for help or marks.
func TestChooserTakesLetters(t *testing.T) {
	c := fill(30)
	m := picture(t, opened(stories["move"], c, 0, nil), 80, 24)
	press(t, m, "s", "q", "?", " ", "n")
	if m.showing != onSatellites || m.chooser.text != "q? n" || len(m.chooser.found) != 0 {
		t.Errorf("%s shows %q with %d found", m.showing, m.chooser.text, len(m.chooser.found))
	}
	press(t, m, "enter")
	if !strings.Contains(m.page.plain(), "There is no satellite to choose") {
		t.Errorf("nothing is told:\n%s", m.page.plain())
	}
	press(t, m, "backspace", "backspace", "backspace", "backspace", "backspace")
	settle(t, m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(" pebble\x1b 1"), Paste: true})
	if got := len(m.chooser.found); m.chooser.text != "pebble 1" || got != 11 { // 1, 10 … 19
		t.Errorf("%q finds %d, want 11", m.chooser.text, got)
	}
	press(t, m, "down", "down", "up", "down", "down", "down", "down", "down", "down", "down", "down", "down", "down", "down")
	if m.chooser.selected != 10 {
		t.Errorf("choice %d, want the last", m.chooser.selected)
	}
	press(t, m, "esc")
	if m.showing != onPointing || len(m.tracker.targets) != 1 {
		t.Errorf("%s, %d targets after Esc", m.showing, len(m.tracker.targets))
	}
}

// What goes wrong is told, and the satellite stays.
func TestChooserTroubles(t *testing.T) {
	m := picture(t, opened(stories["move"], nil, 0, errors.New("store: no such\x1b file")), 80, 24)
	press(t, m, "s")
	if want := "No catalogue: store: no such file"; !strings.Contains(m.page.plain(), want) {
		t.Errorf("%q is not on the screen:\n%s", want, m.page.plain())
	}
	c := fill(3)
	c.takes, c.fails = 0, errors.New("perigee below 156 km")
	m = picture(t, opened(stories["move"], c, 0, nil), 80, 24)
	press(t, m, "s", "3", "enter")
	if want := "PEBBLE 3 can't be pointed at: perigee below 156 km"; !strings.Contains(m.page.plain(), want) || len(m.tracker.targets) != 1 {
		t.Errorf("%q is not on the screen:\n%s", want, m.page.plain())
	}
	// Esc while the orbit is read: it is not wanted any more.
	c.takes, c.fails = 3*time.Second, nil
	play(t, opened(stories["move"], c, 0, nil), 80, 24, func(p *player) {
		p.press("s", "3", "\r", "\x1b")
		p.wait(5 * time.Second)
		p.want("LARKSPUR-2", "MOVE")
		p.miss("PEBBLE")
		p.press("s", "e", " ", "2", "\r")
		p.wait(5 * time.Second)
		p.want("Pointing at PEBBLE 2")
	})
}

// Without any target at all one can be chosen.
func TestChooseTheFirst(t *testing.T) {
	c := fill(3)
	c.takes = 0
	config, _ := opened(stories["move"], c, 0, nil).config(func() time.Time { return start })
	m := newModel(context.Background(), config, nil, themes["dark"], nil)
	settle(t, m, tea.WindowSizeMsg{Width: 80, Height: 24})
	press(t, m, "s", "p", "enter")
	if m.scene.stage != before || m.scene.target.Name != "PEBBLE 1" {
		t.Errorf("stage %d of %q, want the next pass of PEBBLE 1", m.scene.stage, m.scene.target.Name)
	}
}

func TestChooserScreens(t *testing.T) {
	d := newDisk()
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		m := picture(t, opened(twins(d), fill(300), 0, nil), size[0], size[1])
		press(t, m, "s")
		golden(t, "satellites-"+sizeName(size), m.page.plain())
		press(t, m, "e", "b", "x", "backspace", "down", "down")
		golden(t, "typed-"+sizeName(size), m.page.plain())
	}
}

// A key of somebody who types, over 30,000 objects, to the finished picture:
// 16 ms are allowed. The texts fit all, many, one and no object.
func BenchmarkTypedKey(b *testing.B) {
	for _, text := range []string{"P", "PEBBLE 1", "29999", "2026", "zz"} {
		b.Run(text, func(b *testing.B) {
			m := picture(b, opened(stories["move"], fill(30_000), 0, nil), 120, 40)
			press(b, m, "s")
			typed := []rune(text)
			m.chooser.text = string(typed[:len(typed)-1])
			for b.Loop() {
				m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: typed[len(typed)-1:]})
				m.Update(tea.KeyMsg{Type: tea.KeyBackspace})
			}
		})
	}
}

// An outing about an object of the catalogue is taken up with it, with its pass
// and its marks.
func TestChosenTakenUp(t *testing.T) {
	c := fill(30)
	c.takes = 0
	d := newDisk()
	play(t, opened(recorded(d), c, 0, nil), 80, 24, func(p *player) {
		p.press("s", "7", "0", "0", "1", "2", "\r", " ")
		p.press("p", "\x1b[B", "\r")
		p.want("NEXT PASS")
		p.wait(time.Second)
	})
	state := d.state(t)
	if state.Pass == nil || state.Pass.CatalogueNumber != 70_012 {
		t.Fatalf("the record is about %+v", state.Pass)
	}
	again := func(c *shelf) story {
		s := opened(recorded(newDisk()), c, 2*time.Second, nil)
		change := s.change
		s.change = func(config *Config) { change(config); config.Resume, config.Chosen = &state, -1 }
		return s
	}
	play(t, again(c), 80, 24, func(p *player) {
		p.want("The outing is taken up again")
		p.wait(3 * time.Second)
		wait := span(state.Pass.Rise.Time.Sub(p.now()))
		p.want("Pointing at PEBBLE 12", "1 heard", "rises in "+wait[:len(wait)-2])
	})
	play(t, again(fill(3)), 80, 24, func(p *player) {
		p.wait(3 * time.Second)
		p.want("PEBBLE 12, which this outing was about, can't be pointed at", "LARKSPUR-2")
	})
}

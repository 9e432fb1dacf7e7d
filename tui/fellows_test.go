package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

// launched is a catalogue of one launch, strung out along one orbit: each object
// is late by some seconds. (SGP4 does not know the date near the Earth, so that
// elements with a later epoch are the same orbit, later.)
func launched(lateS map[string]float64) *shelf {
	c := fill(20)
	c.takes = 0
	for name, late := range lateS {
		set := lowSet("OBJECT "+name, 80_000+int(name[0]), "2026-901"+name)
		set.NodeDeg = 190
		set.Epoch = set.Epoch.Add(time.Duration(late * float64(time.Second)))
		c.Add(set)
	}
	return c
}

// What the list says of each fellow is the time between its rise and that of the
// satellite, each from a search of its own.
func TestFellowsOfALaunch(t *testing.T) {
	c := launched(map[string]float64{"A": 0, "B": -40, "F": 190, "G": 700})
	m := picture(t, opened(stories["move"], c, 0, nil), 120, 40)
	press(t, m, "s", "2", "0", "2", "6", "-", "9", "0", "1", "A", "enter", "p")
	rises := func(name string) []track.Pass {
		set := c.Match("OBJECT "+name, 1)[0]
		o, err := track.NewOrbit(set)
		if err != nil {
			t.Fatal(err)
		}
		passes, err := o.Passes(t.Context(), meadow, start, start.Add(48*time.Hour), 5)
		if err != nil {
			t.Fatal(err)
		}
		return passes
	}
	for step := range 3 {
		own := rises("A")[step]
		page := m.page.plain()
		for _, name := range []string{"B", "F", "G"} {
			for _, p := range rises(name) {
				after := p.Rise.Time.Sub(own.Rise.Time).Round(time.Second)
				if after.Abs() > 40*time.Minute {
					continue
				}
				want := fmt.Sprintf("OBJECT %s %s after", name, span(after))
				if after < 0 {
					want = fmt.Sprintf("OBJECT %s %s before", name, span(-after))
				}
				if !strings.Contains(page, want) {
					t.Errorf("pass %d: %q is not on the screen:\n%s", step, want, page)
				}
			}
		}
		press(t, m, "down")
	}
	golden(t, "fellows-120x40", m.page.plain())
	resize(t, m, [2]int{53, 20})
	golden(t, "fellows-53x20", m.page.plain())
	// They go with the satellite.
	press(t, m, "s", "l", "enter")
	if page := m.page.plain(); strings.Contains(page, "Same launch") || !strings.Contains(page, "Passes of LARKSPUR-2") {
		t.Errorf("of another satellite:\n%s", page)
	}
}

func TestFellowWords(t *testing.T) {
	member := func(name string, after time.Duration, pass bool) track.Member {
		m := track.Member{Set: elements.Set{Name: name}, RisesAfter: after}
		if pass {
			m.Pass = new(track.Pass)
		}
		return m
	}
	f := fellows{members: []track.Member{
		member("B\x1b", -20400*time.Millisecond, true), member("C", 300*time.Millisecond, true),
		member("F", 190*time.Second, true), member("SUNK", 0, false),
	}}
	for n, want := range []string{
		"Same launch: C together, B 0:20 before, F 3:10 after",
		"Same launch: C together, B 0:20 before, 1 more",
		"Same launch: C together, 2 more",
	} {
		if got := f.words()[n]; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if words := new(fellows).words(); len(words) != 0 {
		t.Errorf("nobody: %q", words)
	}
	for designator, want := range map[string]string{"2026-901AB": "2026-901", "2026-901a": "2026-901", "": "", "AB": ""} {
		if got := launchOf(designator); got != want {
			t.Errorf("launch of %q: %q, want %q", designator, got, want)
		}
	}
}

package tui

import (
	"strings"
	"testing"
	"time"

	"foreaim/track/outing"
	"foreaim/track/terrain"
)

// The pass of the stories comes from 214° at its rise, is 28° up at 198°, 48° up
// at 140°, and goes at 66°. So the trees hide it up to about 28°, and the house
// a part of its way down.
func TestSkylineInThePass(t *testing.T) {
	golden(t, "woods-80x24-ascii", picture(t, stories["woods"], 80, 24, func(c *Config) { c.ASCII = true }).page.plain())
	early := stories["woods"]
	early.at = stories["before"].at
	golden(t, "woods-before-80x24", picture(t, early, 80, 24).page.plain())

	free, hidden := picture(t, stories["before"], 80, 24).scene.pass, picture(t, early, 80, 24).scene.pass
	if later := hidden.Rise.Time.Sub(free.Rise.Time); later < 2*time.Minute || later > 4*time.Minute || hidden.Rise.ElevationDeg < 26 {
		t.Errorf("it comes %s later over the trees, at %.1f°", later, hidden.Rise.ElevationDeg)
	}
	if len(hidden.Hidden) != 1 {
		t.Errorf("hidden %v, want once, by the house", hidden.Hidden)
	}
}

// Nobody is told to go behind the house, and its silence is not marked.
func TestHiddenBurstsAreLeftOut(t *testing.T) {
	t.Parallel()
	s := stories["woods"] // from -80 s on
	m := picture(t, s, 80, 24)
	house := m.scene.pass.Hidden[0]
	voice := new(listener)
	played := spoken(s, voice)
	play(t, played, 80, few, func(p *player) {
		p.until(house.From.Sub(start) + 4*time.Second)
		p.want("(behind the skyline until")
		during := len(voice.texts())
		p.until(house.To.Sub(start) - 12*time.Second)
		for _, u := range voice.texts()[during:] {
			if u.text == "burst" || u.text == "hold" {
				t.Errorf("%q is said at %s, behind the house", u.text, u.at.Sub(start))
			}
		}
		p.until(house.To.Sub(start) + 40*time.Second)
	})
	bursts, hidden, marked := 0, 0, 0
	m = picture(t, s, 80, 24)
	for _, h := range m.scene.plan.Holds {
		bursts++
		if h.Hidden {
			hidden++
		}
		if h.Hidden != (h.At.After(house.From) && h.At.Before(house.To)) {
			t.Errorf("hold %d at %s is hidden: %v", h.Number, h.At.Sub(start), h.Hidden)
		}
	}
	if hidden == 0 || hidden == bursts {
		t.Errorf("%d of %d bursts are hidden", hidden, bursts)
	}
	d := newDisk()
	s = recorded(d)
	s.at = house.From.Sub(start) - 5*time.Second
	change := s.change
	s.change = func(c *Config) { change(c); c.Skyline = trees() }
	play(t, s, 80, few, func(p *player) { p.until(house.To.Sub(start) - time.Second) })
	for _, k := range d.state(t).Marks {
		if k.Origin.Start.After(house.From) {
			marked++
		}
	}
	if marked != 0 {
		t.Errorf("%d silences are marked behind the house", marked)
	}
}

// A skyline is entered with a few keys, kept in the record and taken up again.
func TestSkylineEntered(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	m := picture(t, s, 80, 24) // facing 150°
	press(t, m, "k")
	press(t, m, "left", "left", "+", "+", "+", "enter")       // 140°, 15°
	press(t, m, "right", "right", "right", "right", "-", " ") // 160°, 10°
	press(t, m, "]", "up", "up", "enter", "u")                // 190°, 20°, and away
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		resize(t, m, size)
		m.message = ""
		m.draw()
		golden(t, "outline-"+sizeName(size), m.page.plain())
	}
	want := []terrain.Point{{AzimuthDeg: 140, ElevationDeg: 15}, {AzimuthDeg: 160, ElevationDeg: 10}}
	same := func(got terrain.Skyline) bool {
		p := got.Points()
		return len(p) == 2 && p[0] == want[0] && p[1] == want[1]
	}
	if !same(m.tracker.skyline) {
		t.Errorf("entered %v, want %v", m.tracker.skyline.Points(), want)
	}
	state := d.state(t)
	s.change = func(c *Config) { c.Resume, c.Skyline = &state, trees() }
	if again := picture(t, s, 80, 24); !same(again.tracker.skyline) {
		t.Errorf("taken up %v, want %v", again.tracker.skyline.Points(), want)
	}
	// What is taken away at the cursor once nothing entered is left.
	press(t, m, "u", "u", "u")
	if n := len(m.tracker.skyline.Points()); n != 0 || len(d.state(t).Skyline) != 0 {
		t.Errorf("%d points are left, %d in the record", n, len(d.state(t).Skyline))
	}
}

// The skyline to begin with is in the record, once.
func TestGivenSkylineRecorded(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	change := s.change
	s.change = func(c *Config) { change(c); c.Skyline = trees() }
	play(t, s, 80, few, func(p *player) { p.wait(3 * time.Second) })
	points := 0
	for _, r := range d.log(t).Records {
		if e, ok := r.Entry.(outing.CheckEntry); ok && e.List == outing.ListSkyline {
			points++
		}
	}
	if points != 9 || len(d.state(t).Skyline) != 9 {
		t.Errorf("%d points recorded, %d restored, want 9", points, len(d.state(t).Skyline))
	}
}

// However many points there are, and whether or not anything else is to be said,
// no sentence is cut on the view.
func TestOutlineSaysWholeSentences(t *testing.T) {
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}, {40, 14}, {30, 10}} {
		for _, points := range []int{0, 3, 12, 40, 90} {
			for _, known := range []bool{true, false} {
				s := stories["move"]
				s.noFacing = !known
				m := picture(t, s, size[0], size[1], func(c *Config) {
					for i := range points {
						c.Skyline, _ = c.Skyline.Add(float64(4*i), float64(i%20))
					}
				})
				m.hills.missing = "no tile of the place is in the folder"
				press(t, m, "k")
				lines, _ := m.scene.outlineLines(m.page, m.scene.outline, 99)
				all, whole := "", words(m)
				for _, line := range lines {
					all += line.text + " "
				}
				for begins, ends := range map[string]string{
					"Set the facing first": "from straight ahead.", "Hills are": "in the folder.",
					"The skyline goes straight": "the view is free.", "Measure with fists": "up from the horizon.",
				} {
					if strings.Contains(all, begins) != (!known || begins[0] != 'S') {
						t.Errorf("%v, %d points, facing %v: %q", size, points, known, all)
					}
					if strings.Contains(whole, begins) && !strings.Contains(whole, ends) {
						t.Errorf("%v, %d points, facing %v: %q is cut:\n%s", size, points, known, begins, m.page.plain())
					}
					if size[0] >= 53 && points < 4 && !strings.Contains(whole, ends) && strings.Contains(all, begins) {
						t.Errorf("%v, %d points, facing %v: %q is left out:\n%s", size, points, known, begins, m.page.plain())
					}
				}
			}
		}
	}
}

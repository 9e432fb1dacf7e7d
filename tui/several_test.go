package tui

import (
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track/outing"
)

// twins are two satellites on the same path.
func twins(d *diskRecorder) story {
	s := recorded(d)
	s.object.number = 99101
	other := s.object
	other.number = 99102
	s.second = &other
	return s
}

// Each satellite has its own marks, on the screen, in the record and when the
// outing is taken up again.
func TestMarksOfEachSatellite(t *testing.T) {
	d := newDisk()
	play(t, twins(d), 80, 24, func(p *player) {
		p.until(-110 * time.Second)
		p.press(" ")
		p.want("Burst 6 heard", "1 heard 0 silent")
		p.press("s", "\r")
		p.miss("1 heard")
		p.until(-80 * time.Second)
		p.press(" ", " ")
		p.want("Burst 7 heard, strong", "1 heard 0 silent")
		p.press("n", "s", "\r")
		p.until(-75 * time.Second)
		p.want("1 heard 0 silent 1 missed")
		p.miss("NOISE UP")
		p.press("u") // takes back what is of this one
		p.until(-65 * time.Second)
		p.press("s", "\r")
		p.want("1 heard", "NOISE UP")
	})
	state := d.state(t)
	about := map[int][]outing.MarkKind{}
	for _, k := range state.Marks {
		if k.Fate == outing.Stands {
			about[k.CatalogueNumber] = append(about[k.CatalogueNumber], k.Kind)
		}
	}
	if len(about[99101]) != 1 || about[99101][0] != outing.Heard || len(about[99102]) != 2 {
		t.Errorf("the record tells %v", about)
	}
	s := twins(d)
	s.at = -60 * time.Second
	s.change = func(c *Config) { c.Resume, c.Chosen = &state, -1 }
	m := picture(t, s, 80, 24)
	if m.tracker.chosen != 1 {
		t.Fatalf("satellite %d is taken up, want the second, which was followed last", m.tracker.chosen+1)
	}
	if got := m.scene.tally; got.heard != 1 || !got.noise {
		t.Errorf("taken up: %+v, want 1 heard and noise up", got)
	}
	press(t, m, "s", "enter")
	if got := m.scene.tally; got.heard != 1 || got.noise {
		t.Errorf("of the other: %+v, want 1 heard", got)
	}
	press(t, m, " ")
	if newest := m.marking.marks.Newest(); newest <= state.Marks[len(state.Marks)-1].ID {
		t.Errorf("a new mark has the ID %d of an old one", newest)
	}
}

// Marks of a record without satellites are of the one that it was about.
func TestOldMarksTakenUp(t *testing.T) {
	k := outing.Mark{ID: 3, At: start.Add(-200 * time.Second), Kind: outing.NoiseUp}
	s := twins(newDisk())
	s.change = func(c *Config) {
		c.Resume = &outing.State{Marks: []outing.Mark{k}, Last: k.At, Elements: &outing.ElementsEntry{Satellite: "LARKSPUR-3", CatalogueNumber: 99102}}
	}
	m := picture(t, s, 80, 24)
	if m.scene.tally.noise || !tallyOf(m.marking.all[1]).noise {
		t.Error("the mark is not taken up for the second satellite alone")
	}
}

// A pass that was chosen by hand is pointed at again when the outing is taken
// up, and when the passes are searched anew.
func TestChosenPassTakenUp(t *testing.T) {
	d := newDisk()
	play(t, recorded(d), 80, 24, func(p *player) {
		p.press("p", "\x1b[B", "\x1b[B", "\r")
		p.want("rises in 3:07:")
		p.wait(time.Second)
	})
	state := d.state(t)
	s := recorded(d)
	change := s.change
	s.change = func(c *Config) { change(c); c.Resume = &state }
	s.at += 10 * time.Second
	play(t, s, 80, 24, func(p *player) {
		p.want("rises in 3:07:")
		p.press("k", "\r", "\x1b")
		p.want("rises in 3:07:")
	})
	s.at = 190 * time.Minute // near its end
	play(t, s, 80, 24, func(p *player) {
		p.until(190*time.Minute + 10*time.Second)
		p.want("15:10:")
	})
	s.at = 200 * time.Minute // over
	play(t, s, 80, 24, func(p *player) { p.want("rises in 1:20:") })
}

// The record keeps headings at most once a second and only changed ones, six
// decimals of any number, and the file of the elements.
func TestRecordedHeadingsAndNumbers(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	s.reports = []gps.Report{goodReport(start.Add(s.at), 0)}
	play(t, s, 80, 24, func(p *player) {
		for i := range 40 { // ten seconds, four a second; still for the last five
			r := goodReport(p.now(), 0)
			deg := 100 + float64(min(i, 20))/3
			r.Heading = &gps.Heading{Received: p.now(), TrueDeg: deg, TrueKnown: true, PitchDeg: 10.5, PitchKnown: true}
			p.report(r)
			p.wait(250 * time.Millisecond)
		}
	})
	var headings []outing.SensorEntry
	var last time.Time
	for _, r := range d.log(t).Records {
		switch e := r.Entry.(type) {
		case outing.SensorEntry:
			if gap := r.At.Sub(last); gap < time.Second {
				t.Errorf("two headings within %s", gap)
			}
			headings, last = append(headings, e), r.At
		case outing.ElementsEntry:
			if e.File != "larks.tle" {
				t.Errorf("elements from the file %q", e.File)
			}
		}
	}
	if n := len(headings); n < 5 || n > 7 || headings[n-1].TrueDeg.Value != 106.666667 || headings[0].PitchDeg.Value != 10.5 {
		t.Errorf("%d headings, %+v, want about 6 and the last 106.666667", n, headings)
	}
	for _, line := range strings.Split(d.disk.String(), "\n") {
		for _, word := range strings.FieldsFunc(line, func(r rune) bool { return !(r >= '0' && r <= '9' || r == '.') }) {
			if _, decimals, _ := strings.Cut(word, "."); len(decimals) > 6 && !strings.Contains(decimals, ".") {
				t.Errorf("%s has more than six decimals in %s", word, line)
			}
		}
	}
	if tidy(1.0/3) != 0.333333 || tidy(-2.0000004) != -2 || !math.IsNaN(tidy(math.NaN())) {
		t.Error("tidy rounds wrongly")
	}
}

// Elements too old are told at the start, in words, until the next key.
func TestOldElementsAreTold(t *testing.T) {
	s := stories["before"]
	s.object.epoch = start.Add(-34 * 24 * time.Hour)
	for _, size := range [][2]int{{53, 20}, {80, 24}} {
		m := picture(t, s, size[0], size[1])
		page := m.page.plain()
		for _, want := range []string{"Elements 34 days old: find newer before you go", "34 "} {
			if !strings.Contains(page, want) {
				t.Errorf("%q is not on the screen:\n%s", want, page)
			}
		}
		press(t, m, "c", "esc")
		if page := m.page.plain(); strings.Contains(page, "before you go") || !strings.Contains(page, "ELEMENTS 34 ") {
			t.Errorf("after a key:\n%s", page)
		}
	}
	for age, want := range map[float64]string{20: "up to a minute early or late", 34: "minutes early or late"} {
		if got := earlyOrLate(time.Duration(age * 24 * float64(time.Hour))); got != want {
			t.Errorf("%v days: %q, want %q", age, got, want)
		}
	}
}

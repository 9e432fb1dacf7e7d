package tui

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/terrain"
)

// valley is the skyline of a ground: a mountain of so many degrees in the
// south-west, where the usual pass comes from, and low hills elsewhere.
func valley(t testing.TB, mountainDeg float64) terrain.Skyline {
	t.Helper()
	s, err := terrain.NewSkyline(
		terrain.Point{AzimuthDeg: 0, ElevationDeg: 2}, terrain.Point{AzimuthDeg: 184, ElevationDeg: 2},
		terrain.Point{AzimuthDeg: 185, ElevationDeg: mountainDeg}, terrain.Point{AzimuthDeg: 260, ElevationDeg: mountainDeg},
		terrain.Point{AzimuthDeg: 300, ElevationDeg: 2})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// looks answers looks around as it was told, each after two seconds, and keeps
// from where they were asked.
type looks struct {
	answers []Hills
	err     error
	from    []track.Site
	ended   int // before their time
}

func (l *looks) around(ctx context.Context, site track.Site) (Hills, error) {
	l.from = append(l.from, site)
	n := len(l.from)
	select {
	case <-ctx.Done():
		l.ended++
		return Hills{}, ctx.Err()
	case <-time.After(2 * time.Second):
	}
	if n > len(l.answers) {
		return Hills{}, l.err
	}
	return l.answers[n-1], nil
}

// afield is the usual story from 20 minutes before the peak, its site told by a
// receiver alone.
func afield(d *diskRecorder, l *looks) story {
	s := stories["before"]
	s.noSite, s.reports = true, []gps.Report{{State: gps.Searching, Source: "tcp://receiver:2947", LastByte: start.Add(s.at)}}
	s.change = func(c *Config) {
		c.LookAround, c.Record, c.Start = l.around, d, outing.StartEntry{Outing: "20260610T094000Z"}
		c.Silent = true
	}
	return s
}

// northOf is a good report from so many km north of the meadow.
func (p *player) northOf(km float64) gps.Report {
	r := goodReport(p.now(), 0)
	r.Fix.LatitudeDeg += km / 111.2
	return r
}

// elevations are of a restored skyline at some azimuths.
func elevations(t *testing.T, state outing.State, azimuths ...float64) (all []float64) {
	t.Helper()
	s := startLayers(Config{Resume: &state}).skyline()
	for _, a := range azimuths {
		all = append(all, s.ElevationDeg(a))
	}
	return all
}

// The hills come with the first fix: the pass then rises over them, once that has
// been told in one line and is in the record. They change with the place, and what
// was entered stays.
func TestHillsComeWithTheFix(t *testing.T) {
	t.Parallel()
	d := newDisk()
	l := &looks{answers: []Hills{{Skyline: valley(t, 20)}, {Skyline: valley(t, 25), Note: "3 % of the ground unknown"}}}
	play(t, afield(d, l), 80, 24, func(p *player) {
		p.wait(3 * time.Second)
		p.want("WAITING FOR A FIX")
		p.report(p.northOf(0))
		p.wait(time.Second)
		p.want("rises in")
		p.wait(2 * time.Second)
		p.want("Hills in the skyline: up to 20° in the south", "over the skyline in")
		if got := elevations(t, d.state(t), 0, 220); !slices.Equal(got, []float64{2, 20}) {
			t.Errorf("recorded are %v, want 2° and 20°", got)
		}
		p.press("k", "\r", "\x1b") // level, straight ahead, at 150°
		p.report(p.northOf(0.1))
		p.wait(4 * time.Second)
		if len(l.from) != 1 {
			t.Errorf("looked from %v, want one look while nobody walks away", l.from)
		}
		p.wait(6 * time.Second)
		p.report(p.northOf(0.5))
		p.wait(3 * time.Second)
		p.want("Hills in the skyline: up to 25° in the south; 3 % of the ground unknown")
		if got := elevations(t, d.state(t), 0, 150, 220); !slices.Equal(got, []float64{2, 0, 25}) {
			t.Errorf("recorded are %v, want 2°, the 0° that were entered and 25°", got)
		}
		// Two moves in a row: the first look is given up.
		p.report(p.northOf(1))
		p.wait(time.Second)
		p.report(p.northOf(2))
		p.wait(500 * time.Millisecond)
		if len(l.from) != 4 || l.ended != 1 {
			t.Errorf("%d looks of which %d were given up, want 4 and 1", len(l.from), l.ended)
		}
	})
}

// Hills that can't be told are a warning as long as that is so, with the way out in
// the view of the skyline; those of another place are gone.
func TestHillsAreMissing(t *testing.T) {
	t.Parallel()
	d := newDisk()
	l := &looks{answers: []Hills{{Skyline: valley(t, 20)}}, err: errors.New("tiles: there is no tile \x1b[31mS32E019")}
	play(t, afield(d, l), 80, 24, func(p *player) {
		p.report(p.northOf(0))
		p.wait(4 * time.Second)
		p.want("over the skyline in")
		p.wait(10 * time.Second)
		p.report(p.northOf(300))
		p.wait(4 * time.Second)
		p.want("Hills are left out of the skyline: tiles: there is no tile", "rises in")
		p.miss("over the skyline")
		p.press("k")
		p.want("Hills are left out: tiles: there is no tile", "No point yet")
		p.press("\x1b")
		p.report(p.northOf(300))
		p.wait(time.Second)
		p.want("NO HILLS")
	})
	if len(l.from) != 2 {
		t.Errorf("looked from %v, want no more looks from where it failed", l.from)
	}
	warned := 0
	for _, r := range d.log(t).Records {
		if w, ok := r.Entry.(outing.WarningEntry); ok && !w.Over && strings.Contains(string(w.Words), "hills left out of the skyline: tiles: there is no tile") {
			warned++
		}
	}
	if warned != 1 {
		t.Errorf("%d warnings in the record, want 1", warned)
	}
	if n := len(d.state(t).Skyline); n != 0 {
		t.Errorf("%d points of the far hills are left in the record", n)
	}
}

// Where the hills are known from the start, or come back with the record, nobody
// looks again from there.
func TestHillsAreKnown(t *testing.T) {
	given := picture(t, stories["before"], 80, 24, func(c *Config) {
		c.Hills, c.Skyline = Hills{Skyline: valley(t, 20), Note: "9 % of the ground unknown"}, trees()
		c.LookAround = func(context.Context, track.Site) (Hills, error) { panic("looked again") }
	})
	for azimuth, want := range map[float64]float64{10: 2, 110: 45, 220: 28, 280: 14} { // of either the higher
		if got := given.tracker.skyline.ElevationDeg(azimuth); got != want {
			t.Errorf("at %v° it is %v°, want %v°", azimuth, got, want)
		}
	}
	if !strings.Contains(given.page.plain(), "Hills in the skyline: up to 20° in the south; 9 % of the ground unknown") {
		t.Errorf("it isn't told that not all ground is known:\n%s", given.page.plain())
	}
	state := outing.State{
		Fix:     &outing.FixEntry{LatitudeDeg: number(meadow.LatitudeDeg), LongitudeDeg: number(meadow.LongitudeDeg)},
		Skyline: []outing.SkylinePoint{{AzimuthDeg: 10, ElevationDeg: 7}},
	}
	s := stories["before"]
	s.noSite, s.reports = true, []gps.Report{goodReport(start.Add(s.at), 0)}
	again := picture(t, s, 80, 24, func(c *Config) {
		c.Resume = &state
		c.LookAround = func(context.Context, track.Site) (Hills, error) { panic("looked again") }
	})
	if got := again.tracker.skyline.ElevationDeg(200); got != 7 || !again.tracker.siteKnown {
		t.Errorf("the skyline of the record is %v° high, want 7°", got)
	}
}

// What is entered over hills is taken away again without a trace, and what was
// entered before they came is joined with them.
func TestLayers(t *testing.T) {
	l, err := layers{}.with(terrain.Point{AzimuthDeg: 90, ElevationDeg: 10})
	if err != nil {
		t.Fatal(err)
	}
	l = l.over(valley(t, 20))
	both := l.skyline().Points()
	for azimuth, want := range map[float64]float64{0: 10, 90: 10, 220: 20} {
		if got := l.skyline().ElevationDeg(azimuth); got != want {
			t.Errorf("at %v° it is %v°, want %v°", azimuth, got, want)
		}
	}
	more := l
	for _, p := range []terrain.Point{{AzimuthDeg: 200, ElevationDeg: 3}, {AzimuthDeg: 185, ElevationDeg: 1}, {AzimuthDeg: 200, ElevationDeg: 4}} {
		if more, err = more.with(p); err != nil || more.skyline().ElevationDeg(p.AzimuthDeg) != p.ElevationDeg {
			t.Fatalf("%v entered: %v, %v", p, more.skyline().Points(), err)
		}
	}
	if _, err := more.with(terrain.Point{AzimuthDeg: 200, ElevationDeg: 91}); err == nil {
		t.Error("a point beyond the sky was taken")
	}
	for _, azimuth := range []float64{200, 185} {
		found := false
		if more, found = more.without(azimuth); !found {
			t.Errorf("there is no point at %v° to take away", azimuth)
		}
	}
	if !slices.Equal(more.skyline().Points(), both) {
		t.Errorf("left are %v, want %v", more.skyline().Points(), both)
	}
	if without, found := more.without(90); !found || without.skyline().ElevationDeg(90) != 2 {
		t.Errorf("without the tree the hill is %v° high, want 2°", without.skyline().ElevationDeg(90))
	}
	if _, found := more.without(91); found {
		t.Error("a point was taken away where none is")
	}
}

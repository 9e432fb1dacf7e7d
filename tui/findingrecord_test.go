package tui

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"foreaim/track/outing"
)

// How the sensor sits on the boom is in the record, with what it reads from true
// north, and is there again when the outing is taken up.
func TestSensorTakenUp(t *testing.T) {
	d := newDisk()
	s := sensing(0, reading(t, 0, 10), -6)
	change := s.change
	s.change = func(c *Config) { change(c); c.Record, c.Start = d, outing.StartEntry{Outing: "20260610T100000Z"} }
	m := picture(t, s, 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter", "o")
	m.Update(frameMsg{m.generation})
	state := d.state(t)
	e := state.Facing
	if e == nil || math.Abs(e.SensorOffsetDeg.Value+10) > 0.01 || e.SensorPitchOffsetDeg.Value != 6 {
		t.Fatalf("recorded %+v", e)
	}
	var read outing.SensorEntry
	for _, r := range d.log(t).Records {
		if e, ok := r.Entry.(outing.SensorEntry); ok {
			read = e
		}
	}
	if !read.MagneticDeg.Known || math.Abs(read.TrueDeg.Value-10) > 0.01 {
		t.Errorf("recorded %+v, want 10° true", read)
	}
	s.change = func(c *Config) { change(c); c.Resume = &state }
	again := picture(t, s, 80, 24)
	if got, want := again.facing.sensor, m.facing.sensor; math.Abs(got.OffsetDeg-want.OffsetDeg) > 1e-5 ||
		math.Abs(got.OffsetSigmaDeg-want.OffsetSigmaDeg) > 1e-5 || got.PitchOffsetDeg != 6 || !got.Set {
		t.Errorf("taken up %+v, was %+v", got, want)
	}
}

// What the facing is made of is in the record, and is there again when the
// outing is taken up: one more reference joins it, and the last can be taken
// back.
func TestReferencesTakenUp(t *testing.T) {
	d := newDisk()
	s := finding(meadow, noonTime, northMast)
	change := s.change
	s.change = func(c *Config) {
		change(c)
		c.Record, c.Start = d, outing.StartEntry{Outing: "20260610T100000Z"}
	}
	m := picture(t, s, 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter")
	choose(t, m, "compass")
	press(t, m, "enter", "2", "5", "enter", "n", "g", "a", "t", "e", "enter")
	m.Update(frameMsg{m.generation})
	state := d.state(t)
	e := state.Facing
	if e == nil || !e.SigmaDeg.Known || e.How != "mast, compass" || e.Ahead != "gate" || len(e.References.All()) != 2 {
		t.Fatalf("recorded %+v", e)
	}
	if r := e.References.All()[1]; r.Way != "compass" || r.SharedDeg.Value < 4 || r.LatitudeDeg.Value != meadow.LatitudeDeg || !r.Time.Equal(noonTime) {
		t.Errorf("recorded %+v", r)
	}
	taken := s
	taken.change = func(c *Config) { change(c); c.Resume = &state }
	again := picture(t, taken, 80, 24)
	if math.Abs(again.facing.deg-m.facing.deg) > 1e-5 || math.Abs(again.facing.sigmaDeg-m.facing.sigmaDeg) > 1e-5 || again.facing.ahead != "gate" {
		t.Errorf("taken up %+v, was %+v", again.facing, m.facing)
	}
	press(t, again, "w")
	if text := again.page.plain(); !strings.Contains(text, "straight ahead (gate) is 0") || !strings.Contains(text, "b compass: facing") {
		t.Errorf("the references aren't shown:\n%s", text)
	}
	press(t, again, "u")
	if diff := cmp.Diff([]string{"mast"}, []string{again.facing.how}); diff != "" || again.facing.deg != 0 {
		t.Errorf("%s%+v", diff, again.facing)
	}
	press(t, m, "u", "u")
	m.Update(frameMsg{m.generation})
	if f := d.state(t).Facing; f != nil {
		t.Errorf("recorded %+v after all was taken away", f)
	}
}

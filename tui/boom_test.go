package tui

import (
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/north"
)

// sensing is somebody in the meadow with a sensor on the boom, which gives
// magnetic azimuths; the declination is 24° west there.
func sensing(at time.Duration, magneticDeg, pitchDeg float64) story {
	s := finding(meadow, start.Add(at), northMast)
	s.reports[0].Heading = &gps.Heading{
		Received: start.Add(at), MagneticDeg: magneticDeg, MagneticKnown: true, PitchDeg: pitchDeg, PitchKnown: true,
	}
	return s
}

// turnBoom points the boom elsewhere.
func turnBoom(t *testing.T, m *model, magneticDeg float64) {
	t.Helper()
	r := m.scene.report
	h := *r.Heading
	h.MagneticDeg = magneticDeg
	r.Heading = &h
	reports := make(chan gps.Report, 1)
	reports <- r
	m.reports = reports
	m.Update(frameMsg{m.generation})
}

// What the hand has to do is counted from where the boom points to the hold.
func TestPointingError(t *testing.T) {
	field, err := north.At(meadow.LatitudeDeg, meadow.LongitudeDeg, meadow.HeightM, noonTime)
	if err != nil {
		t.Fatal(err)
	}
	hold := picture(t, stories["move"], 80, 24).scene.aimed()
	for _, c := range []struct {
		turnDeg, upDeg float64 // to do
		says           string
	}{
		{0, 0, "boom on the aim"},
		{2, -2, "boom on the aim"},
		{21, 0, "boom 21° right"},
		{20, 16, "boom 20° right 16° up"},
		{-59, -14, "boom 59° left 14° down"},
		{0, 29, "boom 29° up"},
		{-170, 0, "boom 170° left"},
	} {
		magnetic := track.Wrap360(hold.AzimuthDeg - c.turnDeg - field.DeclinationDeg)
		m := picture(t, sensing(stories["move"].at, magnetic, hold.ElevationDeg-c.upDeg), 80, 24, func(c *Config) {
			c.FacingKnown, c.FacingDeg = true, 150
		})
		if !strings.Contains(m.page.plain(), c.says+"  ") {
			t.Errorf("%+v: %q is not on the screen:\n%s", c, c.says, m.page.plain())
		}
		if !strings.ContainsRune(m.page.plain(), unicodeGlyphs.boom) {
			t.Errorf("the boom isn't in the window:\n%s", m.page.plain())
		}
	}
	golden(t, "boom-80x24", picture(t, sensing(stories["move"].at, 190, 20), 80, 24, func(c *Config) { c.FacingKnown, c.FacingDeg = true, 150 }).page.plain())
	// A sensor that fell silent points nowhere.
	s := sensing(stories["move"].at, 225, 26)
	s.reports[0].Heading.Received = s.reports[0].Heading.Received.Add(-time.Minute)
	if m := picture(t, s, 80, 24); strings.Contains(m.page.plain(), "boom") {
		t.Errorf("a silent sensor is shown:\n%s", m.page.plain())
	}
}

// The mast is due north, the boom lies along it, and the sensor is 10° off.
func TestMountingOffset(t *testing.T) {
	field, err := north.At(meadow.LatitudeDeg, meadow.LongitudeDeg, meadow.HeightM, noonTime)
	if err != nil {
		t.Fatal(err)
	}
	reads := track.Wrap360(350 - field.DeclinationDeg)
	m := picture(t, sensing(0, reads, 0), 80, 24)
	press(t, m, "w", "o")
	if m.facing.sensor.Set || !strings.Contains(m.page.plain(), "Take a reference first") {
		t.Errorf("an offset without a facing: %+v", m.facing)
	}
	choose(t, m, "sensor")
	press(t, m, "enter", "o")
	if m.facing.sensor.Set || !strings.Contains(m.page.plain(), "can't be set by itself") {
		t.Errorf("an offset by the sensor alone: %+v", m.facing)
	}
	press(t, m, "u")
	choose(t, m, "mast")
	press(t, m, "enter", "o")
	if o := m.facing.sensor; !o.Set || math.Abs(o.OffsetDeg-10) > 0.01 || !strings.Contains(m.page.plain(), "The sensor is set: +10° ±3°") {
		t.Errorf("offset %+v, want 10°:\n%s", o, m.page.plain())
	}
	if b := m.scene.sensed.boom; math.Abs(track.TurnDeg(0, b.AzimuthDeg)) > 0.01 {
		t.Errorf("the boom is at %v, want north", b)
	}
	choose(t, m, "sensor") // it no longer checks what it was set by
	if w, _ := m.finder.way(); !strings.Contains(w.refusal, "set by the others (+10° ±3°)") {
		t.Errorf("refusal %q", w.refusal)
	}
	press(t, m, "o")
	if m.facing.sensor.Set {
		t.Error("the offset stays")
	}
	press(t, m, "enter") // a second witness now, and within its uncertainty
	if n := len(m.finder.said.Used); n != 2 || len(m.finder.said.Differences) != 0 {
		t.Errorf("%+v", m.finder.said)
	}
	press(t, m, "u")
	turnBoom(t, m, reads+20)
	press(t, m, "enter")
	if text := m.page.plain(); !strings.Contains(text, "mast") || len(m.finder.said.Differences) != 0 {
		t.Errorf("10° off is within twice a sensor's uncertainty:\n%s", text)
	}
	press(t, m, "u")
	turnBoom(t, m, reads+40)
	press(t, m, "enter")
	m.message = ""
	m.draw()
	if text := m.page.plain(); !strings.Contains(text, "mast and sensor differ by 30°") || !strings.Contains(text, "the boom, cable") {
		t.Errorf("the sensor's error isn't told:\n%s", text)
	}
}

// reading is what the sensor reads, magnetic, whose boom lies along a true azimuth
// in the meadow and that is off by some degrees.
func reading(t *testing.T, trueDeg, offDeg float64) float64 {
	t.Helper()
	field, err := north.At(meadow.LatitudeDeg, meadow.LongitudeDeg, meadow.HeightM, noonTime)
	if err != nil {
		t.Fatal(err)
	}
	return track.Wrap360(trueDeg + offDeg - field.DeclinationDeg)
}

// words joins the lines of a screen, so that a text is found that was wrapped.
func words(m *model) string { return strings.Join(strings.Fields(m.page.plain()), " ") }

// Taking the mast with the boom along it checks the sensor: beyond nearly three
// times the uncertainty of the two (5.0° and 1.5°) the screens say so until all is
// well again.
func TestSensorChecked(t *testing.T) {
	const doubt = "sensor says 30° more than mast: iron near it, or clamped on askew?"
	for _, size := range [][2]int{{80, 24}, {53, 20}, {120, 40}} {
		m := picture(t, sensing(0, reading(t, 0, 30), 0), size[0], size[1])
		press(t, m, "w")
		choose(t, m, "mast")
		press(t, m, "enter")
		if m.message = ""; !strings.Contains(words(m), "straight ahead is 000° ±2°") {
			t.Fatalf("%v: %+v\n%s", size, m.facing, m.page.plain())
		}
		m.draw()
		if text := words(m); !strings.Contains(text, doubt) {
			t.Errorf("%v: nothing is said of the sensor:\n%s", size, m.page.plain())
		}
		press(t, m, "esc")
		m.message = ""
		m.draw()
		if text := words(m); !strings.Contains(text, doubt) && !strings.Contains(text, "SENSOR IN DOUBT") {
			t.Errorf("%v: nothing is said of the sensor while pointing:\n%s", size, m.page.plain())
		}
		press(t, m, "w", "o") // set by the mast, it agrees
		if m.scene.check != nil {
			t.Errorf("%v: in doubt after it was set: %v", size, m.scene.check)
		}
		m.finder.taken[0].At = noonTime.Add(-time.Minute)
		choose(t, m, "mast")
		press(t, m, "enter")
		if text := words(m); !strings.Contains(text, "Mast: straight ahead is 000° ±2°") || size[0] > 53 && !strings.Contains(text, "±2°, and the sensor agrees") || m.scene.check != nil {
			t.Errorf("%v: %v\n%s", size, m.scene.check, m.page.plain())
		}
	}
	m := picture(t, sensing(0, reading(t, 0, 10), 0), 80, 24) // 10° are within that, six fists to the right
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "]", "]", "enter")
	turnBoom(t, m, reading(t, 0, -30))
	if m.scene.check != nil {
		t.Errorf("%v", m.scene.check)
	}
	choose(t, m, "mast")
	m.finder.taken[0].At = noonTime.Add(-time.Minute)
	press(t, m, "]", "]", "enter")
	if c := m.scene.check; c == nil || math.Abs(c.MoreDeg+30) > 0.1 {
		t.Errorf("%v, want 30° less", c)
	}
	press(t, m, "u") // and what it was checked against is taken back
	if m.scene.check != nil {
		t.Errorf("%v", m.scene.check)
	}
}

// A boom that lies level tells how much the sensor is tilted; one that doesn't
// sets nothing.
func TestSensorSetLevel(t *testing.T) {
	m := picture(t, sensing(0, reading(t, 0, 0), 40), 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter", "o")
	if m.facing.sensor.Set || !strings.Contains(m.page.plain(), "Hold the boom level: the sensor says +40°") {
		t.Errorf("%+v\n%s", m.facing.sensor, m.page.plain())
	}
	m = picture(t, sensing(0, reading(t, 0, 0), -6), 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter", "o")
	if b := m.scene.sensed.boom; !m.facing.sensor.Set || b.ElevationDeg != 0 {
		t.Errorf("%+v: the boom is at %+v, want it level", m.facing.sensor, b)
	}
}

// What was set by straight ahead goes with it when that is put right, and stays
// when another is given.
func TestSensorGoesWithTheFacing(t *testing.T) {
	at := func(m *model, what string, want float64) {
		t.Helper()
		m.Update(frameMsg{m.generation})
		if b := m.scene.sensed.boom; math.Abs(track.TurnDeg(want, b.AzimuthDeg)) > 0.01 {
			t.Errorf("%s: the boom is at %.2f°, want %.2f°", what, b.AzimuthDeg, want)
		}
	}
	m := picture(t, sensing(0, reading(t, 0, 10), 0), 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter", "o", "esc")
	at(m, "set", 0)
	press(t, m, "]", "right")
	at(m, "turned by 11°", 11)
	press(t, m, "w")
	choose(t, m, "compass")
	press(t, m, "enter", "4", "9", "enter") // about 25° true
	at(m, "with a compass", m.facing.deg)
	before := m.facing.deg
	press(t, m, "esc", "f", "2", "0", "0", "enter")
	at(m, "facing elsewhere", before)
	press(t, m, "f", "m", "9", "0", "enter")
	at(m, "facing elsewhere, by compass", before)
}

// With a sensor the cross goes where the boom points.
func TestCrossFollowsBoom(t *testing.T) {
	m := picture(t, sensing(0, 300, 0), 80, 24)
	press(t, m, "w", "a")
	turnBoom(t, m, 280)
	choose(t, m, "mast")
	press(t, m, "x", "enter")
	turnBoom(t, m, 330)
	press(t, m, "enter", "x")
	// Shoulders at -20° and +30°: the mast, at 0° true, is 5° right of ahead.
	if f := m.facing; math.Abs(track.TurnDeg(355, f.deg)) > 0.01 {
		t.Errorf("facing %+v, want 355°", f)
	}
	press(t, m, "left")
	turnBoom(t, m, 10)
	if m.finder.rightDeg > 30 {
		t.Error("an arrow key doesn't take the cross from the boom")
	}
}

// A magnetic sensor points nowhere where no compass works; a true one does.
func TestSensorInBlackout(t *testing.T) {
	pole := track.Site{LatitudeDeg: 86, LongitudeDeg: 139}
	s := finding(pole, noonTime)
	s.reports[0].Heading = &gps.Heading{Received: noonTime, MagneticDeg: 10, MagneticKnown: true}
	m := picture(t, s, 80, 24)
	press(t, m, "w")
	choose(t, m, "sensor")
	if w, _ := m.finder.way(); m.scene.sensed.known || !strings.Contains(w.refusal, "compass is useless") {
		t.Errorf("sensed %+v, refusal %q", m.scene.sensed, w.refusal)
	}
	s.reports[0].Heading = &gps.Heading{Received: noonTime, TrueDeg: 77, TrueKnown: true}
	m = picture(t, s, 80, 24)
	press(t, m, "w")
	choose(t, m, "sensor")
	press(t, m, "enter")
	if f := m.facing; f.deg != 77 {
		t.Errorf("facing %+v, want 77°", f)
	}
}

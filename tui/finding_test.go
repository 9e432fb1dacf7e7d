package tui

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/north"
)

// finding is a story of somebody at a site and time who doesn't know where north
// is, with a receiver that has a fix.
func finding(site track.Site, at time.Time, landmarks ...north.Landmark) story {
	s := stories["nofacing"]
	s.at = at.Sub(start)
	r := goodReport(at, 0)
	r.Fix.LatitudeDeg, r.Fix.LongitudeDeg, r.Fix.AltitudeM = site.LatitudeDeg, site.LongitudeDeg, site.HeightM
	s.reports = []gps.Report{r}
	s.change = func(c *Config) { c.Site, c.Landmarks = site, landmarks }
	return s
}

// The sites and times of the sky are rows of ../testdata/sun, whose azimuths are
// by astropy 5.2.1 (see there): S23, M33, P16.
var (
	dateLine  = track.Site{LatitudeDeg: -16.5, LongitudeDeg: -179.9}
	farNorth  = track.Site{LatitudeDeg: 64.13, LongitudeDeg: -21.9, HeightM: 20}
	lowlands  = track.Site{LatitudeDeg: 51.5, LongitudeDeg: -0.12}
	sunTime   = time.Date(2029, 9, 30, 19, 19, 19, 0, time.UTC)
	moonTime  = time.Date(2026, 11, 25, 2, 20, 15, 0, time.UTC)
	starTime  = time.Date(2026, 11, 25, 18, 30, 0, 0, time.UTC)
	noonTime  = start
	northMast = north.Landmark{Name: "mast", LatitudeDeg: meadow.LatitudeDeg + 0.1, LongitudeDeg: meadow.LongitudeDeg}
)

// choose walks down the list to a way.
func choose(t *testing.T, m *model, name string) {
	t.Helper()
	for range m.finder.ways {
		press(t, m, "up")
	}
	for range m.finder.ways {
		if w, _ := m.finder.way(); w.name == name {
			return
		}
		press(t, m, "down")
	}
	t.Fatalf("there is no way %q:\n%s", name, m.page.plain())
}

// Each way by itself, against azimuths from outside. A meridian is a meridian, so
// a mast due north on it is at 0°; the convergence of grid north is close to the
// longitude from the middle of the zone (here 21° E) times the latitude's sine.
func TestEveryWay(t *testing.T) {
	field, err := north.At(meadow.LatitudeDeg, meadow.LongitudeDeg, meadow.HeightM, noonTime)
	if err != nil {
		t.Fatal(err)
	}
	grid := (meadow.LongitudeDeg - 21) * math.Sin(meadow.LatitudeDeg*math.Pi/180)
	for _, c := range []struct {
		name     string
		site     track.Site
		at       time.Time
		way      string
		keys     string
		want     float64
		low, hi  float64 // of the uncertainty
		recorded north.Kind
	}{
		{"the sun's shadow", dateLine, sunTime, "sun's shadow", "enter", 86.528645 + 180, 1, 2, north.BySun},
		{"its shadow, two fists right of ahead", dateLine, sunTime, "sun's shadow", "right right right right enter", 86.528645 + 160, 2, 3, north.BySun},
		{"the moon", farNorth, moonTime, "moon", "enter", 194.838645, 1, 3, north.ByMoon},
		{"the moon's shadow", farNorth, moonTime, "moon's shadow", "enter", 14.838645, 1, 3, north.ByMoon},
		{"the pole star, half a fist left", lowlands, starTime, "pole star", "left enter", 5.910937, 1, 3, north.ByPoleStar},
		{"a landmark", meadow, noonTime, "mast", "enter", 0, 1.5, 2, north.ByLandmark},
		{"a landmark a quarter left", meadow, noonTime, "mast", "[ [ [ enter", 90, 2, 3, north.ByLandmark},
		{"its signal", meadow, noonTime, "mast", "x left left left left left enter ] enter x", 10, 2, 6, north.ByTransmitter},
		{"its signal, twice", meadow, noonTime, "mast", "x left left left left left enter ] enter [ left enter ] right enter x", 11.25, 2, 6, north.ByTransmitter},
		{"a compass", meadow, noonTime, "compass", "enter 3 4 0 enter", track.Wrap360(340 + field.DeclinationDeg), 5, 6, north.ByCompass},
		{"a map", meadow, noonTime, "map", "enter 9 0 . 5 enter", 90.5 + grid, 3, 3, north.ByWord},
		{"somebody says so", meadow, noonTime, "known azimuth", "enter 7 backspace 9 0 enter", 90, 10, 10, north.ByWord},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := picture(t, finding(c.site, c.at, northMast), 80, 24)
			press(t, m, "w")
			choose(t, m, c.way)
			press(t, m, strings.Fields(c.keys)...)
			f := m.facing
			if !f.known || math.Abs(track.TurnDeg(c.want, f.deg)) > 0.03 || f.sigmaDeg < c.low || f.sigmaDeg > c.hi+0.3 {
				t.Fatalf("facing %.3f° ±%.2f°, want %.3f° ±%g° to %g°:\n%s", f.deg, f.sigmaDeg, c.want, c.low, c.hi, m.page.plain())
			}
			if r := m.finder.taken[0].Reference; r.Kind != c.recorded || !r.At.Equal(c.at) {
				t.Errorf("a %v of %v, want %v of %v", r.Kind, r.At, c.recorded, c.at)
			}
			press(t, m, "esc", "w") // and what straight ahead is is on both views
			if words := "straight ahead is " + within(c.want, f.sigmaDeg); !strings.Contains(m.page.plain(), words) {
				t.Errorf("%q is not on the screen:\n%s", words, m.page.plain())
			}
			press(t, m, "u")
			if m.facing.known || !strings.Contains(m.page.plain(), "may be anywhere") {
				t.Errorf("facing %+v after it was taken away:\n%s", m.facing, m.page.plain())
			}
		})
	}
}

// What can't be used says why, in the list and when it is chosen.
func TestRefusals(t *testing.T) {
	here := northMast
	here.LatitudeDeg = meadow.LatitudeDeg
	near := here
	near.LatitudeDeg += 20 / 111000.0
	magneticPole := track.Site{LatitudeDeg: 86, LongitudeDeg: 139} // where the horizontal field is smallest, by WMM2025
	for _, c := range []struct {
		name string
		s    story
		way  string
		says string
	}{
		{"the sun below the horizon", finding(lowlands, starTime), "sun's shadow", "sun is below the horizon"},
		{"the sun in the zenith", finding(track.Site{LatitudeDeg: 23.4}, time.Date(2026, 6, 21, 12, 1, 50, 0, time.UTC)), "sun's shadow", "sun is too high"},
		{"no star in the south", finding(meadow, noonTime), "pole star", "No bright star stands at the south pole"},
		{"no star by day", finding(lowlands, noonTime), "pole star", "too light"},
		{"the star overhead at the pole", finding(track.Site{LatitudeDeg: 90}, starTime), "pole star", "too high here"},
		{"no moon up", finding(track.Site{LatitudeDeg: -90}, noonTime), "sun's shadow", "below the horizon"},
		{"a landmark here", finding(meadow, noonTime, here), "mast", "you stand on it"},
		{"a landmark close by", finding(meadow, noonTime, near), "mast", "only 20 m away"},
		{"a landmark beyond sight", finding(meadow, noonTime, north.Landmark{Name: "mast", LatitudeDeg: -10, LongitudeDeg: 19.2}), "mast", "nobody sees that far"},
		{"the compass in the blackout zone", finding(magneticPole, noonTime), "compass", "compass is useless"},
		{"the map beyond its grid", finding(track.Site{LatitudeDeg: 86, LongitudeDeg: 10}, noonTime), "map", "outside the UTM grid"},
		{"the compass outside the model's years", finding(meadow, time.Date(2031, 1, 1, 12, 0, 0, 0, time.UTC)), "compass", "2025.0 to 2030.0"},
		{"a walk without a receiver", stories["nofacing"], "walk", "no receiver"},
		{"nothing without a fix", stories["nosite"], "sun, moon, pole star", "wait for a fix"},
	} {
		for _, size := range [][2]int{{53, 20}, {80, 24}} {
			s := c.s
			m := picture(t, s, size[0], size[1], func(c *Config) { c.FacingKnown = false })
			press(t, m, "w")
			choose(t, m, c.way)
			text := strings.Join(strings.Fields(m.page.plain()), " ")
			if !strings.Contains(text, c.says) {
				t.Errorf("%s: %q is not on the screen:\n%s", c.name, c.says, m.page.plain())
			}
			press(t, m, "enter", "x", "1", "0", "enter")
			if m.facing.known || m.entry.open || m.finder.turn != nil || m.finder.walk != nil {
				t.Errorf("%s: it is taken all the same: %+v", c.name, m.facing)
			}
		}
	}
}

// Typed numbers that are none are asked for again, and Esc leaves all as it was.
func TestTypedBearings(t *testing.T) {
	m := picture(t, finding(meadow, noonTime), 80, 24)
	press(t, m, "w")
	choose(t, m, "compass")
	press(t, m, "enter", "a", "4", "0", "0", "enter")
	if m.facing.known || !strings.Contains(m.page.plain(), "from 0 to 360") || !strings.Contains(m.page.plain(), "Compass: 400_") {
		t.Errorf("400° is taken:\n%s", m.page.plain())
	}
	press(t, m, "esc")
	if m.entry.open || m.facing.known {
		t.Errorf("Esc leaves %+v", m.facing)
	}
}

// Somebody walks towards 60°, at 1.3 m/s, after standing for a while: the screen
// says how much further, then that it is enough. The receiver's noise is first-order
// Gauss–Markov, 3 m along each axis, with a correlation time of a minute.
func TestWalkOnTheScreen(t *testing.T) {
	s := finding(meadow, noonTime)
	play(t, s, 53, 20, func(p *player) {
		random := rand.New(rand.NewPCG(7, 7))
		walked, east, north := 0.0, 3*random.NormFloat64(), 3*random.NormFloat64()
		feed := func(seconds int, speed float64) {
			for range seconds {
				r := goodReport(p.now(), 0)
				keep := math.Exp(-1.0 / 60)
				east = keep*east + 3*math.Sqrt(1-keep*keep)*random.NormFloat64()
				north = keep*north + 3*math.Sqrt(1-keep*keep)*random.NormFloat64()
				eastM, northM := walked*math.Sin(math.Pi/3)+east, walked*math.Cos(math.Pi/3)+north
				r.Fix.LatitudeDeg += northM / 110900 // of a degree at this latitude
				r.Fix.LongitudeDeg += eastM / (111320 * math.Cos(meadow.LatitudeDeg*math.Pi/180))
				p.report(r)
				p.wait(time.Second)
				walked += speed
			}
		}
		feed(2, 0)
		p.press("w")
		for range 12 {
			if strings.Contains(p.text(), "> walk") {
				break
			}
			p.press("j")
		}
		p.press("\r")
		feed(5, 0)
		p.want("WALK  walk", "m further, straight on")
		p.press("\r")
		p.want("further first")
		p.miss("straight ahead is 0")
		feed(30, 1.3)
		p.want("WALK  walk", "(now 0")
		feed(100, 1.3)
		p.want("ENOUGH  walked", "Enter: take it")
		p.press("\r")
		deg, sigma := claimed(t, p.text())
		if off := math.Abs(track.TurnDeg(60, deg)); off > 2*sigma || sigma > 4 {
			t.Errorf("facing %v° ±%v°, want 60° within twice that", deg, sigma)
		}
		p.want("by walk", "straight ahead is 0")
		// A walk that turns back is none, and Esc gives it up.
		p.press("\r")
		feed(60, 1.3)
		feed(20, -1.3)
		p.want("not a straight walk", "Esc gives this walk up")
		p.press("\x1b")
		p.wait(time.Second)
		p.want("> walk", "straight ahead is 0")
	})
}

// claimed reads off a screen what straight ahead is said to be.
func claimed(t *testing.T, text string) (deg, sigmaDeg float64) {
	t.Helper()
	_, words, _ := strings.Cut(text, "straight ahead is ")
	if _, err := fmt.Sscanf(words, "%f° ±%f°", &deg, &sigmaDeg); err != nil {
		t.Fatalf("%v in:\n%s", err, text)
	}
	return deg, sigmaDeg
}

// The odd one out is named, and so are two that differ.
func TestDisagreement(t *testing.T) {
	m := picture(t, finding(meadow, noonTime, northMast), 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter")
	choose(t, m, "compass")
	press(t, m, "enter", "3", "5", "0", "enter") // 326° true: declination is 24° west
	m.message = ""
	m.draw()
	for _, words := range []string{"mast and compass differ by 34°", "iron nearby?", "take one more of another kind"} {
		if !strings.Contains(m.page.plain(), words) {
			t.Errorf("%q is not on the screen:\n%s", words, m.page.plain())
		}
	}
	press(t, m, "u", "enter", "6", "0", "enter")
	golden(t, "find-differ-80x24", m.page.plain())
	press(t, m, "esc")
	if text := m.page.plain(); !strings.Contains(text, "NORTH IN DOUBT") {
		t.Errorf("the pointing view doesn't tell:\n%s", text)
	}
	press(t, m, "w")
	choose(t, m, "sun's shadow")
	// The sun stands where the mast and it agree: its shadow falls behind.
	body, err := north.Sun(noonTime, meadow)
	if err != nil {
		t.Fatal(err)
	}
	m.finder.rightDeg = math.Round(track.TurnDeg(0, body.AzimuthDeg+180)/5) * 5
	press(t, m, "enter")
	if text := m.page.plain(); !strings.Contains(text, "left out: compass") || !strings.Contains(text, "sure enough") {
		t.Errorf("the compass is not named:\n%s", text)
	}
	if f := m.facing; math.Abs(track.TurnDeg(0, f.deg)) > 3 || f.sigmaDeg > 3 {
		t.Errorf("facing %v° ±%v°, want 0° within 3°", f.deg, f.sigmaDeg)
	}
}

// A facing that somebody only said is one witness among others: the operator is
// told a north that is 40° wrong.
func TestWrongNorthIsFound(t *testing.T) {
	s := finding(meadow, noonTime, northMast)
	s.noFacing, s.facingDeg = false, 40 // the truth is 0
	m := picture(t, s, 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter")
	if text := m.page.plain(); !strings.Contains(text, "given and mast differ by 40°") {
		t.Errorf("the difference isn't told:\n%s", text)
	}
	choose(t, m, "compass")
	press(t, m, "enter", "2", "4", "enter") // declination is 24.3° west: -0.3° true
	if f := m.facing; math.Abs(track.TurnDeg(0, f.deg)) > 2*f.sigmaDeg || f.sigmaDeg > 3.4 {
		t.Errorf("facing %v° ±%v°, the truth is 0°", f.deg, f.sigmaDeg)
	}
	if text := m.page.plain(); !strings.Contains(text, "left out: given") {
		t.Errorf("the given facing isn't named:\n%s", text)
	}
}

// Turning the facing turns what it is made of; typing another puts it aside.
func TestFacingAndReferences(t *testing.T) {
	m := picture(t, finding(meadow, noonTime, northMast), 80, 24)
	press(t, m, "w")
	choose(t, m, "mast")
	press(t, m, "enter", "esc", "]", "]", "left")
	if f := m.facing; math.Abs(f.deg-19) > 1e-6 || f.sigmaDeg < 1 || math.Abs(m.finder.taken[0].FacingDeg-19) > 1e-6 {
		t.Errorf("facing %+v by %+v, want 19° and its uncertainty kept", f, m.finder.taken)
	}
	press(t, m, "f", "9", "0", "enter")
	if f := m.facing; f.deg != 90 || f.sigmaDeg != 0 || len(m.finder.taken) != 0 {
		t.Errorf("facing %+v by %+v, want 90° by word", f, m.finder.taken)
	}
	press(t, m, "f", "9", "0", "m", "enter")
	if f := m.facing; f.sigmaDeg < 5 || len(m.finder.taken) != 1 || m.finder.taken[0].Kind != north.ByCompass {
		t.Errorf("facing %+v by %+v, want one by compass", f, m.finder.taken)
	}
}

// The eleventh reference pushes the first one out.
func TestManyReferences(t *testing.T) {
	var all []north.Landmark
	for i := range 12 {
		all = append(all, northOf(meadow, fmt.Sprintf("mast %02d", i)))
	}
	m := picture(t, finding(meadow, noonTime, all...), 80, 24)
	press(t, m, "w")
	for _, l := range all {
		choose(t, m, l.Name)
		press(t, m, "enter", "enter") // twice: one and the same
	}
	if n := len(m.finder.taken); n != mostTaken || m.finder.taken[0].Name != "mast 02" {
		t.Errorf("%d references:\n%s", n, m.page.plain())
	}
}

// Who moves on takes the fixed thing out of its place.
func TestMovedAway(t *testing.T) {
	s := finding(meadow, noonTime, northMast)
	play(t, s, 80, 24, func(p *player) {
		at := func(northM float64) {
			r := goodReport(p.now(), 0)
			r.Fix.LatitudeDeg += northM / 110900
			p.report(r)
			p.wait(time.Second)
		}
		at(0)
		p.press("w")
		for !strings.Contains(p.text(), "> mast") {
			p.press("j")
		}
		p.press("\r")
		p.want("straight ahead is 000° ±2°")
		at(25) // what a receiver's noise does
		p.want("straight ahead is 000° ±2°")
		at(60) // 60 m aside of 200 m is 17°
		p.want("straight ahead is 000° ±17°")
		at(0)
		p.want("straight ahead is 000° ±2°")
		at(300)
		p.want("You have moved 300 m", "straight ahead is 000° ±90°")
		p.press("\x1b")
		p.wait(time.Second)
		p.want("FACING 000° ±90°: find north, w")
	})
}

// A place is remembered under a name, kept outside, and faced from elsewhere.
func TestRemember(t *testing.T) {
	var kept []track.Site
	var fail error
	s := finding(meadow, noonTime)
	s.change = func(c *Config) {
		c.Remember = func(name string, place track.Site) error {
			place.Name = name
			kept = append(kept, place)
			return fail
		}
	}
	m := picture(t, s, 80, 24)
	press(t, m, "w", "r", "b", "i", "g", " ", " ", "r", "o", "c", "k", "enter")
	want := []track.Site{{Name: "big rock", LatitudeDeg: meadow.LatitudeDeg, LongitudeDeg: meadow.LongitudeDeg, HeightM: meadow.HeightM}}
	if diff := cmp.Diff(want, kept); diff != "" || !strings.Contains(m.page.plain(), "Remembered: big rock") {
		t.Errorf("kept (-want +got):\n%s\n%s", diff, m.page.plain())
	}
	press(t, m, "r", "enter")
	if !strings.Contains(m.page.plain(), "a name, such as") {
		t.Errorf("no name is taken:\n%s", m.page.plain())
	}
	press(t, m, "b", "i", "g", " ", "r", "o", "c", "k", "enter")
	if !strings.Contains(m.page.plain(), "one of that name") || len(kept) != 1 {
		t.Errorf("the name is taken twice:\n%s", m.page.plain())
	}
	fail = errors.New("disk full\x1b[2J")
	press(t, m, "2", "enter")
	if !strings.Contains(m.page.plain(), "Not kept for the next outing: disk full[2J") {
		t.Errorf("the failure isn't told:\n%s", m.page.plain())
	}
	choose(t, m, "big rock") // here it is at no distance
	if w, _ := m.finder.way(); w.refusal == "" {
		t.Error("a landmark at no distance can be used")
	}
	r := goodReport(m.scene.computer, 0)
	r.Fix.LatitudeDeg -= 0.05 // the rock is due north now
	reports := make(chan gps.Report, 1)
	reports <- r
	m.reports = reports
	press(t, m, "0", "enter")
	if f := m.facing; !f.known || math.Abs(track.TurnDeg(0, f.deg)) > 1e-6 {
		t.Errorf("facing %+v, want north", f)
	}
}

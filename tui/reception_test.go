package tui

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// masts are invented transmitters around the meadow, in line of sight. The first
// two are those of the worked outing in package radio (400 kW e.r.p., 12 km): they
// make noise on 437 MHz, as 2 × 498 − 562 = 434 MHz, 24 MHz wide.
func masts(t testing.TB) []radio.Incoming {
	t.Helper()
	const text = "name,latitude_deg,longitude_deg,ground_m,mast_m,low_mhz,high_mhz,erp_dbm,polarisation\n" +
		"Dune tower,-31.2918,19.2,900,180,494,502,86,h\n" +
		"Dune tower,-31.2918,19.2,900,180,558,566,86,h\n" +
		"Quarry,-31.43,19.25,910,30,650,658,40,v\n"
	all, err := radio.ReadTransmitters(strings.NewReader(text), "masts.csv")
	if err != nil {
		t.Fatal(err)
	}
	var in []radio.Incoming
	for _, one := range all {
		arrives, err := one.From(radio.Spot{Site: meadow, GroundM: 900, AntennaM: 1.5}, func(x radio.Transmitter, _ radio.Spot) (radio.Range, string, error) {
			return radio.Exactly(radio.FreeSpaceDB(x.MiddleMHz(), 12)), "in line of sight", nil
		})
		if err != nil {
			t.Fatal(err)
		}
		in = append(in, arrives)
	}
	return in
}

// overheard is the radio of the meadow: half a watt, and a preamplifier that bears
// little.
func overheard(t testing.TB) RadioSite {
	t.Helper()
	plan, err := radio.NewPlan(radio.Region1)
	if err != nil {
		t.Fatal(err)
	}
	return RadioSite{
		Link: radio.Link{
			FrequencyHz: 437.45e6, PowerDBm: radio.Exactly(27), SatellitePolarisation: radio.RightCircular,
			Antenna: radio.Antenna{GainDBi: radio.Given(12), BeamwidthEDeg: 48, BeamwidthHDeg: 48, Polarisation: radio.Linear},
			Chain: radio.Chain{Name: "meadow", Stages: []radio.Stage{
				{Name: "preamplifier", Kind: radio.Preamplifier, GainDB: 20, NoiseFigureDB: radio.Given(1), InputIP3DBm: radio.Given(-5), FeedV: 5},
				{Name: "cable", Kind: radio.Cable, GainDB: -1.5},
				{Name: "receiver", Kind: radio.Receiver, NoiseFigureDB: radio.Given(6), InputIP3DBm: radio.Given(20), FullScaleDBm: radio.Given(0)},
			}},
			Environment: radio.QuietRural,
			Mode:        radio.Mode{Name: "own", BandwidthHz: 15000, HearingSNRDB: radio.Exactly(3), DecodingSNRDB: radio.Exactly(12)},
		},
		Incoming: masts(t),
		Plan:     plan,
		Seen: radio.Seen{Absolute: true, Peaks: []radio.Peak{
			{LowMHz: 494.2, HighMHz: 501.8, Level: -20}, {LowMHz: 558.2, HighMHz: 565.8, Level: -22}, {LowMHz: 430.5, HighMHz: 437, Level: -78},
			{LowMHz: 494.2, HighMHz: 501.8, Level: -30, Setting: radio.Setting{AttenuatorDB: 10}}, {LowMHz: 430.5, HighMHz: 437, Level: -108, Setting: radio.Setting{AttenuatorDB: 10}},
		}},
	}
}

// on gives a configuration a radio and a ground.
func on(site RadioSite) func(*Config) {
	return func(c *Config) {
		c.Radio = func(context.Context, Target, track.Site) (RadioSite, error) { return site, nil }
		c.Ground = overRidge
	}
}

// overRidge is the ground over a ridge of 400 m half way.
func overRidge(_ context.Context, _ track.Site, to radio.Transmitter) (Vista, error) {
	p := terrain.Profile{}
	for km := 0.0; km <= 12; km += 0.05 {
		p.DistanceKm = append(p.DistanceKm, km)
		p.GroundM = append(p.GroundM, 900+max(0, 400-250*max(km-6, 6-km)))
	}
	link := terrain.Link{FrequencyMHz: to.MiddleMHz(), FromM: 1.5, ToM: to.MastM}
	v := Vista{FreeSpaceDB: radio.FreeSpaceDB(to.MiddleMHz(), 12)}
	var err error
	if v.Section, err = p.Section(link); err != nil {
		return v, err
	}
	v.Passage, err = p.Pass(link)
	return v, err
}

var receptionSizes = [][2]int{{53, 20}, {80, 24}, {120, 40}}

func TestReceptionScreens(t *testing.T) {
	for _, size := range receptionSizes {
		m := picture(t, stories["move"], size[0], size[1], on(overheard(t)))
		press(t, m, "h")
		golden(t, "reception-"+sizeName(size), m.page.plain())
		if n := attention(m.page); n > 7 || n < 1 {
			t.Errorf("reception at %v: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
		press(t, m, "g")
		golden(t, "ground-"+sizeName(size), m.page.plain())
		if n := attention(m.page); n > 7 || n < 1 {
			t.Errorf("ground at %v: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
	}
	m := picture(t, stories["move"], 80, 24, on(overheard(t)), func(c *Config) { c.ASCII = true })
	press(t, m, "h")
	golden(t, "reception-80x24-ascii", m.page.plain())
	press(t, m, "g")
	golden(t, "ground-80x24-ascii", m.page.plain())
}

// The headroom of the preamplifier in the worked outing of package radio, by hand:
// compression 9.64 dB below the intercept of −5 dBm, digital peaks 10.5 dB above
// the mean, −12.3 to −22.3 dBm in all. Here the third transmitter, 46 dB weaker,
// adds nothing that shows.
func TestReceptionTellsTheWorkedOuting(t *testing.T) {
	m := picture(t, stories["move"], 120, 40, on(overheard(t)))
	press(t, m, "h")
	page := m.page.plain()
	for _, want := range []string{
		"preamplifier: headroom -13 to -3 dB, overloaded", "can't be overloaded",
		"Take the preamplifier out", "Switch the preamplifier's supply off", "puts 5 V into",
		"Quarry", "harmless", "24", "32", "made in the receiver", "2 × Dune tower 494.0 to 502.0 MHz - Dune tower 558.0",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, page)
		}
	}
	if loud, quiet := strings.Index(page, "Dune tower"), strings.Index(page, "Quarry"); loud > quiet {
		t.Errorf("the harmless one stands first:\n%s", page)
	}
}

func TestReceptionWithoutKnowledge(t *testing.T) {
	site := overheard(t)
	alone, unlinked := site, site
	alone.Incoming, alone.Seen = nil, radio.Seen{}
	unlinked.Missing = "the satellite's power is unknown: power_dbm in [[satellite]]"
	broken := func(c *Config) {
		c.Radio = func(context.Context, Target, track.Site) (RadioSite, error) {
			return RadioSite{}, errors.New("masts.csv:3:1: bad\x1b[31m line")
		}
	}
	for name, c := range map[string]struct {
		change      func(*Config)
		want        string
		key, unwant string
	}{
		"nothing":   {func(*Config) {}, "[[chain]]", "h", ""},
		"no tiles":  {func(*Config) {}, "--terrain DIR", "g", ""},
		"no masts":  {on(alone), "No strong transmitters are known", "h", "do no harm"},
		"no ground": {func(c *Config) { on(alone)(c) }, "No strong transmitters are known", "g", ""},
		"no link":   {on(unlinked), "power_dbm in [[satellite]]", "h", "Reckoning"},
		"a fault":   {broken, "masts.csv:3:1: bad", "h", ""},
	} {
		for _, size := range receptionSizes {
			m := picture(t, stories["move"], size[0], size[1], c.change)
			press(t, m, c.key)
			page := strings.Join(strings.Fields(m.page.plain()), " ")
			if !strings.Contains(page, c.want) || c.unwant != "" && strings.Contains(page, c.unwant) {
				t.Errorf("%s at %v: want %q, not %q:\n%s", name, size, c.want, c.unwant, m.page.plain())
			}
			if strings.ContainsRune(m.page.plain(), '\x1b') {
				t.Errorf("%s: a control character gets through", name)
			}
		}
	}
}

// The cause is named by what was seen. The noise test alone, once it was made, tells
// that it is made in the receiver, if not which of two ways: noise that stays when the antenna is turned away and falls by far more
// than the attenuator takes off.
func TestReceptionNamesTheCause(t *testing.T) {
	site := overheard(t)
	m := picture(t, stories["move"], 120, 40, on(site))
	press(t, m, "h")
	if page := m.page.plain(); !strings.Contains(page, "Cause   "+string(radio.MixedProduct)+" (8") {
		t.Errorf("by what was seen:\n%s", page)
	}
	site.Seen = radio.Seen{}
	m = picture(t, stories["before"], 120, 40, on(site))
	press(t, m, "h")
	if page := m.page.plain(); strings.Contains(page, "Cause") {
		t.Errorf("by nothing:\n%s", page)
	}
	press(t, m, "esc", "n", "x", "n", "y", "y", "x", "h")
	if got, want := m.told(), (told{noise: "up", turnAway: outing.No, weaken: outing.Yes, tooMuch: outing.Yes}); got != want {
		t.Fatalf("told %+v, want %+v", got, want)
	}
	inside := 0.0
	for _, o := range m.reception.reckoned.cause.Odds {
		if o.Cause == radio.MixedProduct || o.Cause == radio.Saturation {
			inside += o.Probability
		}
	}
	if page := m.page.plain(); inside < 0.9 || !strings.Contains(page, "Cause") {
		t.Errorf("by the noise test: made in the receiver by %.2f\n%s", inside, page)
	}
}

// Names from files do no harm, and every size holds the views.
func TestReceptionEverywhere(t *testing.T) {
	site := overheard(t)
	for i := range site.Incoming {
		site.Incoming[i].Name = "\x1b[31m\tA very long\u0301 and 危険 name of a mast on a hill \u202e" + site.Incoming[i].Name
	}
	site.Link.Chain.Stages[0].Name = "pre\x07amp 危"
	ascii := func(c *Config) { c.Theme, c.ASCII = "light", true }
	for _, s := range []string{"move", "before", "nopass", "nosite", "sweep", "nofacing", "trouble"} {
		for _, change := range [][]func(*Config){{on(site)}, {on(site), ascii}} {
			m := picture(t, stories[s], 80, 24, change...)
			for _, key := range []string{"h", "g"} {
				press(t, m, key)
				for _, rows := range []int{1, 2, 3, 4, 6, 9, 14, 20, 24, 30, 50, 100} {
					for _, columns := range []int{1, 2, 9, 12, 20, 30, 53, 80, 120, 300} {
						m.Update(tea.WindowSizeMsg{Width: columns, Height: rows})
						checkPicture(t, m.picture, columns, rows)
						if i := strings.IndexFunc(m.picture, func(r rune) bool { return r > 0x7e }); i >= 0 && m.config.ASCII {
							t.Errorf("byte above 0x7e: %q", m.picture[i:min(i+20, len(m.picture))])
						}
						if t.Failed() {
							t.Fatalf("%s, %s at %d×%d:\n%s", s, key, columns, rows, m.page.plain())
						}
					}
				}
			}
		}
	}
}

// In the real program, in virtual time: a source that is slow is not waited for,
// and one that is superseded is told to end.
func TestReceptionBesideTheFrames(t *testing.T) {
	site, ended := overheard(t), make(chan string, 10)
	s := stories["move"]
	s.second = &arc{peakAzimuthDeg: 300, peakElevationDeg: 30, every: orbitEvery, epoch: start}
	s.change = func(c *Config) {
		c.Radio = func(ctx context.Context, target Target, _ track.Site) (RadioSite, error) {
			select {
			case <-ctx.Done():
				ended <- target.Name
				return RadioSite{}, ctx.Err()
			case <-time.After(20 * time.Second):
				return site, nil
			}
		}
		c.Ground = overRidge
	}
	play(t, s, 80, 24, func(p *player) {
		p.press("h")
		p.wait(5 * time.Second)
		if page := p.text(); !strings.Contains(page, "Reading the chain") {
			t.Errorf("the source is waited for:\n%s", page)
		}
		p.press("\x1b")
		p.wait(time.Second)
		p.press("s")
		p.wait(time.Second)
		p.press("\r")
		p.wait(time.Second)
		p.press("h")
		p.wait(2 * time.Second)
		select {
		case name := <-ended:
			if name != "LARKSPUR-2" {
				t.Errorf("%s was told to end", name)
			}
		default:
			t.Error("the first question goes on")
		}
		p.wait(25 * time.Second)
		if page := p.text(); !strings.Contains(page, "RECEPTION of LARKSPUR-3") || !strings.Contains(page, "overloaded") {
			t.Errorf("no answer:\n%s", page)
		}
	})
}

// The view of the moment follows the moment.
func TestReceptionFollowsThePass(t *testing.T) {
	s := stories["move"]
	s.change = on(overheard(t))
	play(t, s, 120, 40, func(p *player) {
		p.press("h")
		p.wait(3 * time.Second)
		before := p.text()
		p.wait(90 * time.Second)
		after := p.text()
		line := func(page string) string {
			for _, l := range strings.Split(page, "\n") {
				if strings.Contains(l, "To hear") {
					return l
				}
			}
			return ""
		}
		if line(before) == "" || line(before) == line(after) {
			t.Errorf("the margin stays:\n%s\n%s", line(before), line(after))
		}
	})
}

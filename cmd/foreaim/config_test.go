package main

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/north"
	"foreaim/track/outing"
	"foreaim/track/radio"

	"github.com/google/go-cmp/cmp"
)

const wholeConfig = `# what a person may write
environment = "quiet_rural"
region = "region 1"
terrain = "tiles"
terrain_sea = true
antenna_m = 2.5
transmitters = "masts.csv"

[site]
name = "Ostvar meadow"
latitude_deg = 58.3127
longitude_deg = 14.0864
height_m = 131

[gps]
source = "serial:///dev/ttyUSB0"
sensor = "serial:///dev/ttyACM0?baud=38400"

[[landmark]]
name = "  Askrona   church "
latitude_deg = 58.3306
longitude_deg = 14.1217
height_m = 167.5

[[landmark]]
name = "mast"
latitude_deg = 58
longitude_deg = -0.5

[fist]
degrees = 9.5

[antenna]
beamwidth_e_deg = 48
beamwidth_h_deg = 60.5
gain_dbi = 10.5
polarisation = "linear"
pattern = "/measured/yagi.csv"

[[chain]]
name = "at the antenna"

[[chain.stage]]
name = "low-noise preamplifier"
gain_db = 20
noise_figure_db = 0.9
input_p1db_dbm = -14
input_ip3_dbm = -4
input_ip2_dbm = 20
feed_v = 5

[[chain.stage]]
name = "5 m"
kind = "cable"
gain_db = -1.5

[[chain.stage]]
name = "receiver"
full_scale_dbm = -10
phase_noise_dbc_hz = -120
bits = 9.5
sample_hz = 2_400_000

[[chain]]
name = "filtered"

[[chain.stage]]
name = "bought filter"
loss_table = "filter.csv"

[[chain.stage]]
name = "receiver"

[voice]
command = "say -v 'Good Voice' {text}"
tones = "aplay -q"

[[run]]
at = "rise-30s"
command = "arecord -d 900 'pass of today.wav'"
timeout = "20m"

[[run]]
at = "burst-2s"
command = "logger burst"

[[check]]
name = "kettle"
before = "12m"
text = "Kettle off?"

[[check]]
name = "recorder"
text = "Recorder running?"
insist = true

[[check]]
name = "disk"
before = "1h"
text = "Room for the record?"
check = "disk"
until_rise = true

[marks]
reaction = "0.6s"
waterfall_least = "500ms"
waterfall_most = "2s"

[noise]
way = "bypass"
db = 22.5

[[satellite]]
name = "EMBERLING"
catalogue_number = 99071
frequency_hz = 436_215_000
period = "30s"
first = 2026-11-25T18:00:10.5Z
length = "1.2s"
tolerance = "500ms"
power_dbm = 30
gain_dbi = -3
polarisation = "right"
mode = "GMSK 9600"
bandwidth_hz = 16e3
hearing_snr_db = 1.5
decoding_snr_db = 11

[[satellite]]
name = "tidelark"
period = "45s"
first = "2026-11-25T19:00:00+01:00"
`

// unexported lets configurations be compared.
var unexported = cmp.AllowUnexported(config{}, satelliteConfig{}, beamwidth{}, runConfig{}, antennaConfig{}, chainConfig{}, signalConfig{}, groundConfig{})

func TestParseConfig(t *testing.T) {
	file := filepath.Join("home", "config.toml")
	got, err := parseConfig(file, []byte(wholeConfig))
	if err != nil {
		t.Fatal(err)
	}
	gmsk, err := radio.FindMode("GMSK 9600")
	if err != nil {
		t.Fatal(err)
	}
	want := config{
		file:      file,
		site:      &track.Site{Name: "Ostvar meadow", LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131},
		gpsSource: "serial:///dev/ttyUSB0",
		sensor:    "serial:///dev/ttyACM0?baud=38400",
		landmarks: []north.Landmark{
			{Name: "Askrona church", LatitudeDeg: 58.3306, LongitudeDeg: 14.1217, HeightM: 167.5, HeightKnown: true},
			{Name: "mast", LatitudeDeg: 58, LongitudeDeg: -0.5},
		},
		fistDeg:   9.5,
		beamwidth: beamwidth{48, 60.5},
		voice:     []string{"say", "-v", "Good Voice", "{text}"},
		tones:     []string{"aplay", "-q"},
		runs: []runConfig{
			{outing.Moment{Anchor: outing.AtRise, Offset: -30 * time.Second}, []string{"arecord", "-d", "900", "pass of today.wav"}, 20 * time.Minute},
			{outing.Moment{Anchor: outing.AtBurst, Offset: -2 * time.Second}, []string{"logger", "burst"}, 10 * time.Second},
		},
		checks: []outing.Item{
			{Name: "kettle", Before: 12 * time.Minute, Text: "Kettle off?"},
			{Name: "recorder", Text: "Recorder running?", Insist: true},
			{Name: "disk", Before: time.Hour, Text: "Room for the record?", Check: outing.FactDisk, UntilRise: true},
		},
		// The scatter is the usual one.
		ear:      outing.Ear{Reaction: 600 * time.Millisecond, Scatter: 300 * time.Millisecond, WaterfallLeast: 500 * time.Millisecond, WaterfallMost: 2 * time.Second},
		noiseWay: outing.Bypass, noiseDB: 22.5,
		satellites: []satelliteConfig{
			{name: "EMBERLING", catalogueNumber: 99071, frequencyHz: 436.215e6, period: 30 * time.Second,
				first:  time.Date(2026, 11, 25, 18, 0, 10, 5e8, time.UTC),
				length: 1200 * time.Millisecond, tolerance: 500 * time.Millisecond,
				signal: signalConfig{powerDBm: radio.Given(30), gainDBi: radio.Given(-3), polarisation: radio.RightCircular, mode: &gmsk,
					bandwidthHz: radio.Given(16000), hearingSNRDB: radio.Given(1.5), decodingSNRDB: radio.Given(11)}},
			{name: "tidelark", period: 45 * time.Second, first: time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)},
		},
		antenna: antennaConfig{radio.Given(10.5), radio.Linear, "/measured/yagi.csv"},
		chains: []chainConfig{
			{radio.Chain{Name: "at the antenna", Stages: []radio.Stage{
				{Name: "low-noise preamplifier", Kind: radio.Preamplifier, GainDB: 20, NoiseFigureDB: radio.Given(0.9),
					InputP1dBDBm: radio.Given(-14), InputIP3DBm: radio.Given(-4), InputIP2DBm: radio.Given(20), FeedV: 5},
				{Name: "5 m", Kind: radio.Cable, GainDB: -1.5},
				{Name: "receiver", Kind: radio.Receiver, FullScaleDBm: radio.Given(-10), PhaseNoiseDBcHz: radio.Given(-120), Bits: 9.5, SampleHz: 2.4e6},
			}}, []string{"", "", ""}},
			{radio.Chain{Name: "filtered", Stages: []radio.Stage{{Name: "bought filter", Kind: radio.Filter}, {Name: "receiver", Kind: radio.Receiver}}},
				[]string{filepath.Join("home", "filter.csv"), ""}},
		},
		environment: radio.QuietRural, region: radio.Region1, transmitters: filepath.Join("home", "masts.csv"),
		ground: groundConfig{filepath.Join("home", "tiles"), true, 2.5},
	}
	if diff := cmp.Diff(want, got, unexported); diff != "" {
		t.Errorf("parseConfig: want -, got +\n%s", diff)
	}
	// As an editor of another system saves it.
	saved := "\xef\xbb\xbf" + strings.ReplaceAll(wholeConfig, "\n", "\r\n")
	if got, err := parseConfig(file, []byte(saved)); err != nil || cmp.Diff(want, got, unexported) != "" {
		t.Errorf("with a byte order mark and CRLF: %v\n%s", err, cmp.Diff(want, got, unexported))
	}
	if got, err := parseConfig("empty.toml", nil); err != nil || got.site != nil || got.satellites != nil {
		t.Errorf("an empty file gives %+v, %v", got, err)
	}
}

func TestConfigMistakes(t *testing.T) {
	const chain = "[[chain]]\nname='a'\n[[chain.stage]]\nname='receiver'\n"
	for _, c := range []struct{ text, message, hint string }{
		{"[site]\nlatitude = 5\n", `c:2:1: unknown key "site.latitude"`, "the keys of [site] are latitude_deg, longitude_deg, height_m, name"},
		{"[voice]\ncommand = \"say 'it\"\n", `c:2:1: voice.command: `, `a command that speaks looks like "espeak-ng -s 160 {text}"`},
		{"[sight]\n", `c:1:2: unknown key "sight"`, "the tables and keys are site, gps, landmark, fist, antenna, voice, run, check, marks, noise, satellite"},
		{"[[satellite]]\nname='A'\n  colour = 'red'\n", `c:3:3: unknown key "satellite.colour"`, "the keys of [satellite] are name,"},
		{"[site\n", "c:1:6: ", ""},
		{"[site]\nlatitude_deg = 91.0\nlongitude_deg = 0.0\n", "c:2:1: site.latitude_deg: 91 is not within -90 to 90", ""},
		{"[site]\nlatitude_deg = nan\nlongitude_deg = 0.0\n", "c:2:1: site.latitude_deg: NaN is not within -90 to 90", ""},
		{"\n[site]\nlatitude_deg = 9\n", "c:2:2: site: longitude_deg is missing", ""},
		{"[site]\nlatitude_deg = 'north'\n", "c:2:16: site.latitude_deg: this is a value of the kind string, want a number", ""},
		{"[voice]\ncommand = 5\n", "c:2:11: voice.command: this is a value of the kind integer, want a text in quotes", ""},
		{"[[landmark]]\nlatitude_deg=1\nlongitude_deg=2\n", "c:1:3: landmark[1]: name is missing", ""},
		{"[[landmark]]\nname=\"\\u0007\"\nlatitude_deg=1\nlongitude_deg=2\n", "c:2:1: landmark[1].name: it is empty", ""},
		{"[[landmark]]\nname='" + strings.Repeat("a", 41) + "'\nlatitude_deg=1\nlongitude_deg=2\n", "c:2:1: landmark[1].name: it has 41 characters, at most 40", ""},
		{"[[landmark]]\nname='A'\nlongitude_deg=2\n", "c:1:3: landmark[1]: latitude_deg is missing", ""},
		{"[[landmark]]\nname='A'\nlatitude_deg=2\n", "c:1:3: landmark[1]: longitude_deg is missing", ""},
		{"[[landmark]]\nname='A'\nlatitude_deg=-90.5\nlongitude_deg=2\n", "c:3:1: landmark[1].latitude_deg: -90.5 is not within -90 to 90", ""},
		{"[[landmark]]\nname='A'\nlatitude_deg=0\nlongitude_deg=200\n", "c:4:1: landmark[1].longitude_deg: 200 is not within -180 to 180", ""},
		{"[[landmark]]\nname='A'\nlatitude_deg=0\nlongitude_deg=0\nheight_m=nan\n", "c:5:1: landmark[1].height_m: NaN is not within -500 to 10000", ""},
		{"[[landmark]]\nname='A'\nheight=5\n", `c:3:1: unknown key "landmark.height"`, "the keys of [landmark] are name, latitude_deg, longitude_deg, height_m"},
		{"[[landmark]]\nname='A b'\nlatitude_deg=0\nlongitude_deg=0\n[[landmark]]\nname='a  B'\nlatitude_deg=1\nlongitude_deg=1\n", `c:6:1: landmark[2].name: "a B" is that of another landmark already`, ""},
		{"[fist]\ndegrees = 0\n", "c:2:1: fist.degrees: 0 is not within 2 to 30", ""},
		{"[antenna]\nbeamwidth_deg=50\nbeamwidth_e_deg=50\n", "c:2:1: antenna.beamwidth_deg: either", ""},
		{"[antenna]\nbeamwidth_e_deg=50\n", "c:1:2: antenna: beamwidth_e_deg and", ""},
		{"[[satellite]]\nperiod='30s'\n", "c:1:3: satellite[1]: name or catalogue_number is missing", ""},
		{"[[satellite]]\nname='A'\n[[satellite]]\nname='B'\nperiod='30'\n", `c:5:1: satellite[2].period: "30" is not a duration`, "durations look like 30s"},
		{"[[satellite]]\nname='A'\nfirst=2026-11-25T18:00:00\n", "c:3:1: satellite[1].first: 2026-11-25T18:00:00 has no zone", "times look like"},
		{"[[satellite]]\nname='A'\nfirst='soon'\n", `c:3:1: satellite[1].first: "soon" is not a time`, "times look like"},
		{"[[satellite]]\nname='A'\ncatalogue_number=0\n", "c:3:1: satellite[1].catalogue_number: 0 is not within 1 to 999999999", ""},
		{"[[satellite]]\nname='A'\nfrequency_hz=437.1\n", "c:3:1: satellite[1].frequency_hz: 437.1 is not within", ""},
		{"[[satellite]]\nname='A'\nperiod='30s'\nlength='30s'\n", "c:4:1: satellite[1].length: a burst of 30s doesn't fit", ""},
		{"[voice]\ntones = ''\n", "c:2:1: voice.tones: the command is empty", "a command that plays looks like"},
		{"[[run]]\nat='rise'\n", "c:1:3: run[1]: command is missing", ""},
		{"[[run]]\ncommand='x'\n", "c:1:3: run[1]: at is missing", ""},
		{"[[run]]\nat='rise'\ncommand='x'\n[[run]]\nat='moonrise-30s'\ncommand='x'\n", `c:5:1: run[2].at: "moonrise-30s" is not a time of a pass`, ""},
		{"[[run]]\nat='rise'\ncommand='say \"'\n", "c:3:1: run[1].command: the \" at column 5", "a command looks like"},
		{"[[run]]\nat='rise'\ncommand='x'\ntimeout='25h'\n", "c:4:1: run[1].timeout: 25h0m0s is not within 100ms to 24h0m0s", ""},
		{"[[run]]\nat='rise'\ncommand='x'\nshell=true\n", `c:4:1: unknown key "run.shell"`, "the keys of [run] are at, command, timeout"},
		{"[[check]]\nname='a'\ntext='A?'\n[[check]]\nname='a'\ntext='B?'\n", `c:5:1: check[2].name: "a" is that of another item already`, ""},
		{"[[check]]\nname='a'\n", "c:1:3: check[1].text: is empty", ""},
		{"[[check]]\nname='a'\ntext=\"A\\u001b[2J?\"\n", `c:3:1: check[1].text: "A[2J?" holds what can't be shown`, ""},
		{"[[check]]\nname='a'\ntext='A?'\nbefore='2h'\n", "c:4:1: check[1].before: 2h0m0s is not within 0s to 1h0m0s", ""},
		{"[[check]]\nname='a'\ntext='A?'\nbefore='soon'\n", `c:4:1: check[1].before: "soon" is not a duration`, "durations look like"},
		{"[[check]]\nname='a'\ntext='A?'\ncheck='weather'\n", `c:4:1: check[1].check: "weather" is unknown, want fix`, ""},
		{"[[check]]\nname='a'\ntext='A?'\ninsist='yes'\n", "c:4:8: check.insist: this is a value of the kind string, want true or false", ""},
		{"[[check]]\nname='a'\ntext='A?'\ninsist=true\nuntil_rise=true\n", "c:4:1: check[1].insist: goes on during the pass", ""},
		{strings.Repeat("[[check]]\nname='a'\ntext='A?'\n", 41), "c:121:3: check[41]: checklist of 41 items, at most 40", ""},
		{"[marks]\nreaction='0s'\n", "c:2:1: marks.reaction: 0s is not within 100ms to 1m0s", ""},
		{"[marks]\nscatter='-1s'\n", "c:2:1: marks.scatter: -1s is not within 0s to 1m0s", ""},
		{"[marks]\nwaterfall_least='1s'\n", "c:1:2: marks.waterfall_most: 0s is less than waterfall_least, 1s", ""},
		{"[noise]\nway='earplugs'\n", `c:2:1: noise.way: "earplugs" is not attenuator or bypass`, ""},
		{"[noise]\nway='bypass'\n", "c:1:2: noise: db is missing", ""},
		{"[noise]\ndb=21\n", "c:2:1: noise.db: 21 is not within 1 to 20", ""},
		{"[noise]\nway='bypass'\ndb=61\n", "c:3:1: noise.db: 61 is not within 1 to 60", ""},
		{"environment='sea'\n", `c:1:1: environment: "sea" is unknown, want city, residential, rural, quiet_rural`, ""},
		{"region='2'\n", `c:1:1: region: "2" is unknown, want region 1, `, ""},
		{"transmitters=\"a\\u001bb\"\n", `c:1:1: transmitters: "ab" is not the name of a file`, ""},
		{"[antenna]\ngain_dbi=41\n", "c:2:1: antenna.gain_dbi: 41 is not within -20 to 40", ""},
		{"[antenna]\npolarisation='sloping'\n", `c:2:1: antenna.polarisation: "sloping" is unknown, want linear, right, left`, ""},
		{"[[satellite]]\nname='A'\nmode='semaphore'\n", `c:3:1: satellite[1].mode: mode "semaphore" isn't known: want CW, `, ""},
		{"[[satellite]]\nname='A'\npower_dbm='1 W'\n", "c:3:11: satellite.power_dbm: this is a value of the kind string, want a number", ""},
		{"[[satellite]]\nname='A'\nbandwidth_hz=0\n", "c:3:1: satellite[1].bandwidth_hz: 0 is not within 1 to 1000000000", ""},
		{"[[chain]]\nname='a'\n", "c:1:3: chain[1]: it has no stage", "begin one with [[chain.stage]]"},
		{"[[chain]]\n[[chain.stage]]\nname='receiver'\n", "c:1:3: chain[1]: name is missing", ""},
		{chain + "[[chain]]\nname='A'\n[[chain.stage]]\nname='receiver'\n", `c:6:1: chain[2].name: "A" is that of another chain already`, ""},
		{chain + "[[chain]]\nname='b'\n[[chain.stage]]\nname='x'\ngain_db=1\n", "c:7:3: chain[2].stage[1]: kind is missing, want cable, filter, attenuator, preamplifier, receiver", ""},
		{chain + "[[chain.stage]]\nkind='mixer'\n", `c:6:1: chain[1].stage[2].kind: "mixer" is unknown, want cable, `, ""},
		{chain + "[[chain.stage]]\nname='cable'\n", "c:5:3: chain[1].stage[2]: gain_db is missing", "a loss is negative"},
		{chain + "[[chain.stage]]\nname='cable'\ngain_db=1.5\n", "c:7:1: chain[1].stage[2].gain_db: a cable has no gain, 1.5 was there", "a loss is negative"},
		{chain + "[[chain.stage]]\nname='filter'\ngain_db=-1\ninput_ip3_dbm=20\n", "c:8:1: chain[1].stage[2].input_ip3_dbm: a filter can't be overloaded", ""},
		{chain + "noise_figure_db=nan\n", "c:5:1: chain[1].stage[1].noise_figure_db: NaN is not within 0 to 60", ""},
		{chain + "colour='red'\n", `c:5:1: unknown key "chain.stage.colour"`, "the keys of [chain.stage] are name, kind, gain_db, "},
		{"site = { latitude_deg = 99, longitude_deg = 1 }\n", "c:1:1: site.latitude_deg: 99 is not within", ""},
	} {
		_, err := parseConfig("c", []byte(c.text))
		if err == nil {
			t.Errorf("%q is accepted", c.text)
			continue
		}
		if !strings.HasPrefix(err.Error(), c.message) {
			t.Errorf("%q:\n got %s\nwant %s", c.text, err, c.message)
		}
		var p *problem
		if !errors.As(err, &p) || p.status != statusWrong || !strings.HasPrefix(p.hint, c.hint) {
			t.Errorf("%q: %#v, want status 2 and the hint %q", c.text, p, c.hint)
		}
	}
}

func TestConfigEntry(t *testing.T) {
	c := config{satellites: []satelliteConfig{{name: "EMBERLING", catalogueNumber: 99071}, {name: "tide  lark"}}}
	for _, each := range []struct {
		name   string
		number int
		want   string
	}{
		{"RENAMED", 99071, "EMBERLING"},
		{"Tide Lark", 99072, "tide  lark"},
		{"emberling", 0, "EMBERLING"},
		{"EMBERLING", 5, ""}, // another number: another object
		{"TIDE", 7, ""},
	} {
		got, ok := c.entry(each.name, each.number)
		if got.name != each.want || ok != (each.want != "") {
			t.Errorf("entry(%q, %d) = %q, %v, want %q", each.name, each.number, got.name, ok, each.want)
		}
	}
}

// Whatever is accepted keeps its promises: values in range, no control
// characters, and the same when read again; an error is one with its place.
func FuzzParseConfig(f *testing.F) {
	f.Add([]byte(wholeConfig))
	f.Add([]byte("[site]\nlatitude_deg = 91"))
	f.Add([]byte("[[satellite]]\nname = \"\\u001b[31m\"\n"))
	f.Add([]byte("site.latitude_deg = 1\nsite.longitude_deg = 2\n"))
	f.Add([]byte("run = [ { at = 'set+1ms', command = \"'' x\", timeout = '0d' } ]"))
	f.Add([]byte("check = []\nmarks.reaction = '1m'\nnoise.db = 1"))
	f.Add([]byte("landmark = [ { name = 'A', latitude_deg = 1, longitude_deg = 2, height_m = -0.0 } ]"))
	f.Add([]byte("satellite = [ { name = 'A', period = '1s' } ]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := parseConfig("c", data)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "c:") {
				t.Errorf("an error without its place: %v", err)
			}
			return
		}
		again, err := parseConfig("c", data)
		if diff := cmp.Diff(c, again, unexported); diff != "" || err != nil {
			t.Errorf("read again: %v %s", err, diff)
		}
		if c.site != nil {
			if err := c.site.Check(); err != nil {
				t.Error(err)
			}
		}
		for _, l := range c.landmarks {
			place := track.Site{LatitudeDeg: l.LatitudeDeg, LongitudeDeg: l.LongitudeDeg, HeightM: l.HeightM}
			if err := place.Check(); err != nil || l.Name == "" || l.Name != plain(l.Name) || l.HeightM != 0 && !l.HeightKnown {
				t.Errorf("landmark %+v, %v", l, err)
			}
		}
		if err := outing.CheckItems(c.checks); err != nil {
			t.Error(err)
		}
		if err := c.ear.Validate(); err != nil {
			t.Error(err)
		}
		if _, err := outing.NewTriage(c.noiseWay, c.noiseDB, false); c.noiseWay != "" && err != nil {
			t.Error(err)
		}
		for _, r := range c.runs {
			if again, err := outing.ParseMoment(r.at.String()); err != nil || again != r.at {
				t.Errorf("at %v, read again %v, %v", r.at, again, err)
			}
			if len(r.command) == 0 || r.timeout < quickestEar || r.timeout > runLongest {
				t.Errorf("%+v", r)
			}
		}
		for _, s := range c.satellites {
			if s.name == "" && s.catalogueNumber == 0 {
				t.Error("a satellite without name and number")
			}
			if s.name != plain(s.name) {
				t.Errorf("control characters in %q", s.name)
			}
			if s.frequencyHz != 0 && !(s.frequencyHz >= lowestHz && s.frequencyHz <= highestHz) {
				t.Errorf("frequency %v", s.frequencyHz)
			}
		}
	})
}

package main

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foreaim/track/radio"

	"github.com/spf13/pflag"
)

// meadow is the invented outing of the radio's tests.
var meadow = []string{"--config", "../../testdata/outing/radio.toml", "--elements", "../../testdata/outing/launch.tle", "--site", "58.3127,14.0864,131"}

type linkRow struct {
	Chain                string
	ElevationDeg         float64 `json:"elevation_deg"`
	RangeKm              float64 `json:"range_km"`
	Burst                int
	PathLossDB           float64 `json:"path_loss_db"`
	ReceivedLowDBm       float64 `json:"received_low_dbm"`
	ReceivedHighDBm      float64 `json:"received_high_dbm"`
	NoiseLowDBm          float64 `json:"noise_low_dbm"`
	NoiseHighDBm         float64 `json:"noise_high_dbm"`
	SNRLowDB             float64 `json:"snr_low_db"`
	HearingMarginDB      float64 `json:"hearing_margin_db"`
	HearingMarginLowDB   float64 `json:"hearing_margin_low_db"`
	HearingMarginHighDB  float64 `json:"hearing_margin_high_db"`
	DecodingMarginLowDB  float64 `json:"decoding_margin_low_db"`
	QuietHearingMarginDB float64 `json:"quiet_hearing_margin_db"`
	NoiseRiseHighDB      float64 `json:"noise_rise_high_db"`
}

func linkRows(t *testing.T, args ...string) (rows []linkRow) {
	t.Helper()
	status, stdout, stderr := runHere(t, context.Background(), with(meadow, with([]string{"link", "--json"}, args...)...)...)
	if status != statusDone {
		t.Fatal(stderr)
	}
	if err := json.Unmarshal([]byte(stdout), &rows); err != nil {
		t.Fatal(err)
	}
	return rows
}

// The levels by hand: 27 dBm at 0 dBi, 32.45 + 20 log f + 20 log d (ITU-R P.525,
// whose constant to two decimals is 32.45), a linear antenna of 11 dBi for a
// circular wave, 3.01 dB between ideal ones, 1.76 to 4.76 dB at an axial ratio of
// 3 dB. Noise of the chain: F = 1.3052 by Friis' formula, 88.5 K, and
// 10 K of the quietest sky at least, in 15 kHz.
func TestLinkLevels(t *testing.T) {
	rows := linkRows(t, "EMBERLING", "--chain", "meadow", "--from", "2026-11-25T20:00:00Z")
	bursts := 0
	for _, r := range rows {
		path := 32.448 + 20*math.Log10(436.215) + 20*math.Log10(r.RangeKm)
		ideal := 27 + 11 - path
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"path loss", r.PathLossDB, path},
			{"weakest", r.ReceivedLowDBm, ideal - 4.76},
			{"strongest", r.ReceivedHighDBm, ideal - 1.76},
			{"ratio", r.SNRLowDB, r.ReceivedLowDBm - r.NoiseHighDBm},
			{"margin", r.HearingMarginLowDB, r.SNRLowDB}, // 0 dB at most is needed
		} {
			if math.Abs(c.got-c.want) > 0.05 {
				t.Errorf("%.0f km: %s %.2f, want %.2f", r.RangeKm, c.what, c.got, c.want)
			}
		}
		if least := -198.6 + 10*math.Log10(88.5+10) + 10*math.Log10(15000); r.NoiseLowDBm < least-0.1 || r.NoiseHighDBm > least+8 {
			t.Errorf("noise %.1f to %.1f dBm, the chain and the quietest sky make %.1f", r.NoiseLowDBm, r.NoiseHighDBm, least)
		}
		if r.Chain != "meadow" || r.HearingMarginDB < r.HearingMarginLowDB || r.HearingMarginDB > r.HearingMarginHighDB || r.DecodingMarginLowDB > r.HearingMarginLowDB-12 {
			t.Errorf("%+v", r)
		}
		if r.Burst > 0 {
			bursts++
		}
	}
	// 11 min 11 s of pass: 23 times 30 s, its end, and a burst each 2 min.
	if len(rows)-bursts != 24 || bursts != 6 {
		t.Errorf("%d rows, %d of them bursts", len(rows), bursts)
	}
}

// What the link promises is what is believed before a pass, on the screen, in
// advise and in rehearse, unless a flag says otherwise. By hand at 1000 km and 30°:
// 27 + 11 - 145.24 - 3.26 dBm; noise of 34.7 to 276.9 K from the antenna (98.0 K in
// the geometric mean) and 88.5 K of the chain, -134.13 dBm in 15 kHz; -6 to 0 dB
// take a blob to be seen: 26.63 dB. Central 80 % of 3 dB (twist), 6 dB (blob) and
// 4.72 dB (noise) are 2.563 standard deviations each: 3.20 dB together.
func TestLinkIsBelieved(t *testing.T) {
	const marginDB, sigmaDB = 26.63, 3.20
	sys := testSystem(system{})
	c, err := sys.loadConfig("../../testdata/outing/radio.toml")
	if err != nil {
		t.Fatal(err)
	}
	sets, faults := readElementFile("../../testdata/outing/launch.tle")
	if faults != nil {
		t.Fatal(faults)
	}
	s, err := newSatellite(sets[0], newOptions(sys), c)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 0.06 {
			t.Errorf("%s %.2f dB, want %.2f", what, got, want)
		}
	}
	target := newTarget(s, c, newLinkFlags())
	near("the screen's margin", target.MarginDB, marginDB)
	near("its error", target.MarginSigmaDB, sigmaDB)
	stronger := newLinkFlags()
	if err := stronger.powerDBm.Set("30"); err != nil {
		t.Fatal(err)
	}
	near("3 dB more", newTarget(s, c, stronger).MarginDB, marginDB+3)

	for flags, want := range map[string]struct{ margin, believed, played float64 }{
		"":                              {marginDB, sigmaDB, sigmaDB},
		"--margin 4":                    {4, 0, 0}, // 0 is believed as the usual 4 dB
		"--margin-error 7":              {marginDB, 7, 7},
		"--margin 4 --margin-error 7":   {4, 7, 7},
		"--beamwidth 48 --aim-error 10": {marginDB, sigmaDB, sigmaDB},
	} {
		e := newErrorFlags()
		f := pflag.NewFlagSet("", pflag.ContinueOnError)
		e.add(f, "", "")
		if err := f.Parse(strings.Fields(flags)); err != nil {
			t.Fatal(err)
		}
		promise, err := e.promised(c, s)
		if err != nil {
			t.Fatal(err)
		}
		p, played := e.prior(c, promise), e.settings(c, promise)
		near(flags+": believed", p.MarginDB, want.margin)
		near(flags+": its error", p.MarginSigmaDB, want.believed)
		near(flags+": played", played.MarginDB, want.margin)
		near(flags+": its error", played.MarginErrorDB, want.played)
	}

	// Between two linear polarisations the twist is left to the belief.
	c.satellites[0].signal.polarisation = radio.Linear
	promise, err := newErrorFlags().promised(c, s)
	if err != nil {
		t.Fatal(err)
	}
	near("without the loss by twist", promise.MarginDB, marginDB+3.26)
	if !newErrorFlags().prior(c, promise).TwistUnknown {
		t.Error("the twist counts nowhere")
	}
	// Where too little is written down the usual margin holds.
	c.satellites[0].signal.powerDBm = radio.Figure{}
	if promise, err = newErrorFlags().promised(c, s); promise != nil || err != nil {
		t.Errorf("a promise without a power: %+v, %v", promise, err)
	}
	near("usual", newErrorFlags().prior(c, promise).MarginDB, 6)
}

// A chain of nothing but a cable has no intercept.
func TestLinkOfACable(t *testing.T) {
	file := filepath.Join(t.TempDir(), "cable.toml")
	text := "[antenna]\nbeamwidth_deg = 48\n[[chain]]\nname = \"bare\"\n[[chain.stage]]\nname = \"cable\"\ngain_db = -1.5\n"
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	status, stdout, stderr := runHere(t, t.Context(), with(emberling, "link", "--config", file, "--from", "2026-11-25T20:00:00Z", "--frequency", "436.2M", "--power", "30", "--mode", "CW")...)
	if status != statusDone || !strings.Contains(stdout, "a  bare: noise figure 1.5 dB, nothing in it can be overloaded\n") || strings.Contains(stdout, "Inf") {
		t.Error(status, stderr, stdout)
	}
}

// The commands take it: 27 dB are surely heard if the beacon sends (0.95), 0 dB not.
func TestLinkIsBelievedByCommands(t *testing.T) {
	for args, want := range map[string]string{
		"advise EMBERLING":                         `"audible_probability":0.95,`,
		"advise EMBERLING --margin 0":              `"audible_probability":0.[0-8]`,
		"rehearse EMBERLING --passes 1":            `(?s)fading 5 dB, margin 3\.2 dB\..*Margin 26\.6 dB at 1000 km`,
		"rehearse EMBERLING --passes 1 --margin 4": `(?s)fading 5 dB\..*Margin 4 dB at 1000 km`,
		"rehearse --passes 1":                      `Margin 6 dB at 1000 km`, // invented: nobody's link
	} {
		run := with(strings.Fields(args), meadow[:2]...)
		if strings.Contains(args, "EMBERLING") {
			run = with(with(strings.Fields(args), meadow...), "--from", "2026-11-25T20:00:00Z")
		}
		status, stdout, stderr := runHere(t, t.Context(), run...)
		if status != statusDone || !regexp.MustCompile(want).MatchString(stdout) {
			t.Errorf("%s: status %d, %s\n%s\nwant %s", args, status, stderr, stdout, want)
		}
	}
}

// Without a choice, what else can be done with the parts of a single chain is
// told too: of the three the preamplifier at the antenna hears best.
func TestLinkComparesChains(t *testing.T) {
	rows := linkRows(t, "EMBERLING", "--from", "2026-11-25T20:00:00Z")
	var worst [3]float64
	for i, name := range []string{"meadow", "meadow, no preamplifier", "meadow, preamplifier behind the cable"} {
		if rows[i].Chain != name {
			t.Fatalf("chain %q, want %q", rows[i].Chain, name)
		}
		worst[i] = rows[i].HearingMarginLowDB
	}
	if !(worst[0] > worst[2] && worst[2] > worst[1]) {
		t.Errorf("margins %v", worst)
	}
}

// What is printed for people is ASCII but for names, degrees and the sign of a
// product; what is missing is told with the way out.
func TestLinkAsks(t *testing.T) {
	for _, c := range []struct{ args, message, hint string }{
		{"", "its frequency is unknown", "add --frequency"},
		{"--frequency 436.2M", "its power is unknown", "add --power 30 for 1 W"},
		{"--frequency 436.2M --power 30", "how it sends is unknown", `add --mode "GMSK 9600"`},
		{"--frequency 436.2M --power 30 --mode CW", "how wide the antenna's beam is, is unknown", "add --beamwidth 50"},
		{"--frequency 436.2M --power 30 --mode CW --beamwidth 50 --chain x", `there is no chain "x"`, "write chains down as [[chain]]"},
		{"--frequency 436.2M --power 300", `--power: "300" is not -100 to 100`, "a power is in dBm: 30 is 1 W"},
		{"--environment moon", `--environment: "moon" is unknown, want city, `, ""},
		{"--frequency 436.2M --power 30 --mode CW --beamwidth 50 --transmitters missing.csv", "missing.csv: ", "name a CSV file with --transmitters FILE"},
		{"--frequency 436.2M --power 30 --mode CW --beamwidth 50 --transmitters ../../testdata/outing/meadow.csv", "../../testdata/outing/meadow.csv:", ""},
	} {
		status, _, stderr := runHere(t, context.Background(), with(emberling, with([]string{"link"}, strings.Fields(c.args)...)...)...)
		if status != statusWrong || !strings.Contains(stderr, c.message) || c.hint != "" && !strings.Contains(stderr, "hint: "+c.hint) {
			t.Errorf("%s: status %d\n%s", c.args, status, stderr)
		}
	}
}

func TestLinkPlotIsASCII(t *testing.T) {
	for _, chain := range [][]string{{"--chain", "meadow"}, nil} {
		status, stdout, stderr := runHere(t, context.Background(), with(meadow, with([]string{"link", "TIDELARK", "--from", "2026-11-25T19:00:00Z"}, chain...)...)...)
		_, plot, ok := strings.Cut(stdout, "Margin for hearing")
		plot, _, ok2 := strings.Cut(plot, "\n2026-11-25")
		if status != statusDone || !ok || !ok2 {
			t.Fatal(status, stderr, stdout)
		}
		for _, line := range strings.Split(plot, "\n") {
			if len(line) > 80 || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
				t.Errorf("%q", line)
			}
		}
		if strings.Contains(plot, "::") != (chain != nil) {
			t.Errorf("the range is drawn of a single chain:\n%s", plot)
		}
	}
}

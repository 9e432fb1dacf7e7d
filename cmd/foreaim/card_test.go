package main

import (
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/north"

	"github.com/google/go-cmp/cmp"
)

// cardRow is a row of a hold at a burst: number, time, true, magnetic,
// elevation, fists, and the frequency before the blank.
var cardRow = regexp.MustCompile(`(?m)^ *(\d+) (\d\d:\d\d:\d\d) +(\d+) +(\d+) +(-?\d+) +(-?[\d.]+) .* ([\d.]+) _{6,}$`)

// Every burst that the programs' answer has is a row of the card, with the same
// numbers: whole seconds and degrees, tenths of a fist, 100 Hz.
func TestCardAgreesWithBursts(t *testing.T) {
	site := track.Site{LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131}
	uncertain := filepath.Join(t.TempDir(), "uncertain.toml") // the hold begins before the burst
	if err := os.WriteFile(uncertain, []byte("[[satellite]]\ncatalogue_number = 99071\nperiod = '30s'\ntolerance = '2s'\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, period := range []string{"30s", "47s", "2m"} {
		args := with(emberling, "--config", uncertain, "--from", "2026-11-25T19:00:00Z", "--period", period, "--first", "2026-11-25T16:00:10.4Z", "--frequency", "436.215M")
		var want struct {
			Bursts []struct {
				Time         time.Time `json:"time"`
				AzimuthDeg   float64   `json:"azimuth_deg"`
				ElevationDeg float64   `json:"elevation_deg"`
				ReceiveHz    float64   `json:"receive_hz"`
			} `json:"bursts"`
		}
		runJSON(t, &want, with(args, "bursts")...)
		_, page, _ := runHere(t, t.Context(), with(args, "passes", "--card")...)
		rows := cardRow.FindAllStringSubmatch(page, -1)
		if len(rows) != len(want.Bursts) || len(rows) < 5 {
			t.Fatalf("%d rows for %d bursts in\n%s", len(rows), len(want.Bursts), page)
		}
		for i, b := range want.Bursts {
			row := rows[i]
			if row[1] != strconv.Itoa(i+1) {
				t.Errorf("row %d has the number %s", i+1, row[1])
			}
			// The tests' zone is an hour ahead of UTC.
			if at := b.Time.Add(time.Hour).Round(time.Second).Format(time.TimeOnly); row[2] != at {
				t.Errorf("burst at %s stands at %s", at, row[2])
			}
			field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, b.Time)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []struct {
				what                  string
				text                  string
				want, tolerance, turn float64
			}{
				{"true azimuth", row[3], b.AzimuthDeg, 0.5, 360},
				{"magnetic azimuth", row[4], b.AzimuthDeg - field.DeclinationDeg, 0.51, 360},
				{"elevation", row[5], b.ElevationDeg, 0.5, 360},
				{"fists of 10 degrees", row[6], b.ElevationDeg / 10, 0.05, 360},
				{"MHz", row[7], b.ReceiveHz / 1e6, 50e-6, 1e6},
			} {
				got, err := strconv.ParseFloat(c.text, 64)
				if err != nil || !(math.Abs(math.Remainder(got-c.want, c.turn)) <= c.tolerance+1e-6) {
					t.Errorf("period %s, row %d: %s is %s, want %v ± %v", period, i+1, c.what, c.text, c.want, c.tolerance)
				}
			}
		}
	}
}

// The card tells what the receiver said of this computer's clock, and nothing
// where there was none.
func TestCardClock(t *testing.T) {
	sys := testSystem(system{stderr: io.Discard})
	for words, clock := range map[string]gps.Clock{
		"this computer was 42.3 s slow.":         {Known: true, OffsetS: 42.31, UncertaintyS: 0.3},
		"this computer was 7.0 s fast.":          {Known: true, OffsetS: -7.04, UncertaintyS: 0.3},
		"this computer's clock was not checked.": {OffsetS: 5},
	} {
		c := card{task: task{place: sys.placeOf(gps.Report{Clock: clock})}}
		if got, want := c.clock(), "Set your watch by the GPS: "+words; got != want {
			t.Errorf("%+v: %q, want %q", clock, got, want)
		}
	}
}

// A watch isn't changed in mid-pass: the card keeps to the rise's zone. In
// Sweden 01:00 UTC of 25 October 2026 turns 03:00 into 02:00 (EU directive
// 2000/84/EC: the last Sunday of October, 01:00 UTC).
func TestCardKeepsItsZone(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Stockholm")
	if err != nil {
		t.Fatal(err)
	}
	c := newCard(system{local: zone}, task{}, passOf{Pass: track.Pass{Rise: track.Look{Time: mustTime("2026-10-25T00:58:00Z")}}})
	if got := c.clockTime(mustTime("2026-10-25T01:04:00Z")); got != "03:04:00" || c.zone() != "CEST" {
		t.Errorf("six minutes after 02:58:00 CEST are %s %s, want 03:04:00 CEST", got, c.zone())
	}
}

// Near the zenith, where a turn says little, the words are where the top leans.
func TestCardOverhead(t *testing.T) {
	holds := []aim.Hold{
		{Number: 1, Direction: aim.Direction{AzimuthDeg: 40, ElevationDeg: 70}},
		{Number: 2, Direction: aim.Direction{AzimuthDeg: 44, ElevationDeg: 84}},
		{Number: 3, Direction: aim.Direction{AzimuthDeg: 210, ElevationDeg: 75}},
	}
	c := newCard(system{local: time.UTC}, task{}, passOf{})
	var got []string
	for i := range holds {
		for _, row := range c.hold(aim.Plan{BurstsKnown: true}, holds, i) {
			got = append(got, row[0]+" "+row[6])
		}
	}
	want := []string{"1 start", "2 straight up, top of the boom", " towards north-east", "3 165 right, one fist down"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want -, got +\n%s", diff)
	}
}

// Whatever is to be said fits the page in plain ASCII: with long names, a burst
// a second, wide numbers, no schedule, an object that never sets.
func TestCardFitsThePage(t *testing.T) {
	folder := t.TempDir()
	still, long := filepath.Join(folder, "still.tle"), filepath.Join(folder, "long.toml")
	for file, text := range map[string]string{
		still: `HALCYON MAST
1 99080U 26199Z   26328.25000000  .00000000  00000-0  00000+0 0  9990
2 99080   0.0400 100.0000 0002000  20.0000  45.0000  1.00273790  3110
`,
		long: "site = {latitude_deg = 58.3127, longitude_deg = 14.0864, name = '" + strings.Repeat("ängen vid sjön, ", 20) + "'}",
	} {
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	const site = "--site=58.3127,14.0864,131"
	for _, args := range [][]string{
		{"--elements", "../../testdata/outing/emberling.tle", site, "--period", "1s", "--first", "2026-11-25T16:00:10Z", "--frequency", "10489.55M"},
		{"--elements", "../../testdata/outing/emberling.tle", site, "--frequency", "10489.55M"},
		{"--elements", "../../testdata/outing/emberling.tle", site, "--period", "12s"},
		{"--elements", "../../testdata/outing/emberling.tle", "--min-elevation", "5", "--config", long},
		{"--elements", still, "--site=8.2,14.0864", "--period", "7s", "--first", "2026-11-25T16:00:10Z"},
		{"--elements", still, "--site=8.2,14.0864"},
	} {
		status, page, stderr := runHere(t, t.Context(), append([]string{"passes", "--card", "--from", "2026-11-25T19:00:00Z"}, args...)...)
		if status != statusDone {
			t.Errorf("%v: exit status %d: %s", args, status, stderr)
			continue
		}
		lines := strings.Split(strings.TrimSuffix(page, "\n"), "\n")
		if len(lines) > pageLines || len(lines) < 15 {
			t.Errorf("%v: %d lines", args, len(lines))
		}
		if last := lines[len(lines)-1]; last != cautions[1] {
			t.Errorf("%v ends in %q", args, last)
		}
		for _, line := range lines {
			name := strings.Contains(line, "ngen vid sj") // the only one that may be cut
			if len(line) > pageWidth || strings.HasSuffix(line, "...") != name {
				t.Errorf("%v: %q is too long", args, line)
			}
			if i := strings.IndexFunc(line, func(r rune) bool { return r < ' ' || r > '~' }); i >= 0 {
				t.Errorf("%v: %q is not plain ASCII", args, line)
			}
		}
	}
}

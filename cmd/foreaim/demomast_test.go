package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/outing"
	"foreaim/track/radio"

	"github.com/google/go-cmp/cmp"
)

const outingFolder = "../../testdata/outing/"

// The demonstration's mast drowns its second pass and no other one. The program
// finds that from the transmitters' file alone, pass by pass, as it is in truth.
func TestTheProgramFindsTheMast(t *testing.T) {
	w, err := world.New(context.Background(), mustTime(testNow))
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range w.Satellites {
		from := w.Start.Add([]time.Duration{0, 19 * time.Minute, 41 * time.Minute}[i])
		heard := 0
		for at := from; at.Before(from.Add(10 * time.Minute)); {
			b, err := w.NextBurst(i, at)
			if err != nil {
				t.Fatal(err)
			}
			if b.Audible() {
				heard++
			}
			at = b.Time.Add(1)
		}
		status, stdout, stderr := runHere(t, context.Background(), "link", "--config", outingFolder+"radio.toml",
			"--elements", writeElements(t, s.Set), "--site", "58.3127,14.0864,131", "--ground", "99.5",
			"--chain", "meadow", "--at", from.Add(time.Minute).Format(time.RFC3339), "--json")
		if status != statusDone {
			t.Fatal(stderr)
		}
		var rows []linkRow
		if err := json.Unmarshal([]byte(stdout), &rows); err != nil {
			t.Fatal(err)
		}
		drowned, alone := 0, 0
		for _, r := range rows {
			if r.HearingMarginLowDB < 0 && r.NoiseRiseHighDB > 10 {
				drowned++
			}
			if r.QuietHearingMarginDB > 0 {
				alone++
			}
		}
		if (heard == 0) != (drowned == len(rows)) || (heard > 0) != (drowned == 0) || alone != len(rows) {
			t.Errorf("%s: %d bursts are heard in truth; of %d moments the program has %d drowned, %d heard without the mast",
				s.Set.Name, heard, len(rows), drowned, alone)
		}
		if (heard == 0) != (i == world.Drowned) {
			t.Errorf("%s: %d bursts are heard", s.Set.Name, heard)
		}
	}
}

// The files of the worked outing tell what the demonstration's world is.
func TestTheWorkedOutingIsTheWorlds(t *testing.T) {
	w, err := world.New(context.Background(), mustTime(testNow))
	if err != nil {
		t.Fatal(err)
	}
	masts, err := readFile(outingFolder+"masts.csv", "", radio.ReadTransmitters)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(world.Transmitters(), masts); diff != "" {
		t.Errorf("masts.csv: the world's -, the file's +\n%s", diff)
	}
	data, err := os.ReadFile(outingFolder + "radio.toml")
	if err != nil {
		t.Fatal(err)
	}
	c, err := parseConfig(outingFolder+"radio.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range w.Satellites {
		got, err := c.link(satellite{orbit: s.Orbit, frequencyHz: c.satellites[i].frequencyHz}, newLinkFlags())
		if err != nil {
			t.Fatal(err)
		}
		got.Chain = c.chains[0].Chain
		want, err := w.Link(i)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b *radio.Pattern) bool { return a == b })); diff != "" {
			t.Errorf("radio.toml: the world's -, the file's +\n%s", diff)
		}
	}
}

// From what was read on the receiver, with and without an attenuator, and from
// the answers of the noise test that the world gives, the cause is named, the two
// carriers are, and taking the preamplifier out helps.
func TestSurveyNamesTheCause(t *testing.T) {
	record := filepath.Join(t.TempDir(), "outing.jsonl")
	if err := os.WriteFile(record, []byte(drownedRecord(t)), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{"survey", outingFolder + "peaks.csv", "--padded", outingFolder + "peaks-10db.csv",
		"--config", outingFolder + "radio.toml", "--site", "58.3127,14.0864,131", "--record", record, "--json"}
	status, stdout, stderr := runHere(t, context.Background(), args...)
	if status != statusDone {
		t.Fatal(stderr)
	}
	var s surveyJSON
	if err := json.Unmarshal([]byte(stdout), &s); err != nil {
		t.Fatal(err)
	}
	if s.Cause.Cause != string(radio.MixedProduct) || *s.Cause.Odds[0].Probability < 0.9 {
		t.Errorf("cause %+v", s.Cause)
	}
	if len(s.Products) == 0 || !strings.HasPrefix(s.Products[0].Of, "2 × ") || !strings.Contains(s.Products[0].Of, "450.858") || !strings.Contains(s.Products[0].Of, "466.075") {
		t.Errorf("products %+v", s.Products)
	}
	if len(s.Remedies) == 0 || s.Remedies[0].Kind != string(radio.NoPreamp) || s.Remedies[0].Verdict != string(radio.Enough) || !strings.Contains(s.Remedies[0].Caution, "supply off") {
		t.Errorf("remedies %+v", s.Remedies)
	}
	// The pair by hand, at the antenna's port: -33 and -34 dBm against -5.877 dBm,
	// 2·(-33) - 34 + 2·5.877 = -88.2 dBm over 37.8 kHz, of which 15 kHz in the middle
	// hold less than all and more than a third; levels are right to 3 dB, thrice.
	if level := s.Products[0]; *level.LevelLowDBm > -88.2-9 || *level.LevelHighDBm < -88.2+9-4.8 || *level.LevelHighDBm > -88.2+9+0.1 {
		t.Errorf("product %v to %v dBm", *level.LevelLowDBm, *level.LevelHighDBm)
	}

	// Without the second sweep and without the record nobody can tell.
	status, stdout, _ = runHere(t, context.Background(), "survey", outingFolder+"peaks.csv", "--frequency", "435.64M", "--json")
	s = surveyJSON{}
	if err := json.Unmarshal([]byte(stdout), &s); status != statusDone || err != nil {
		t.Fatal(status, err)
	}
	if s.Cause.Cause != "cannot tell" || !strings.Contains(s.Cause.Do, "attenuator") || s.Remedies == nil || len(s.Remedies) != 0 {
		t.Errorf("%+v", s)
	}
}

// drownedRecord is the record of the drowned pass: the noise is up, and a noise
// test says that it stays when the antenna is turned away and drops by far more
// than the attenuator takes off.
func drownedRecord(t *testing.T) string {
	t.Helper()
	var disk memory
	w := outing.NewWriter(&disk, false)
	at := mustTime(testNow)
	for i, e := range []outing.Entry{
		outing.StartEntry{Outing: "meadow"},
		outing.PassEntry{Satellite: "TIDELARK", CatalogueNumber: 99072},
		outing.MarkEntry{ID: 1, Mark: outing.NoiseUp, Time: outing.TimeOf(at)},
		outing.Answered{Topic: outing.TurnAway, Answer: outing.No}.Entry(),
		outing.Answered{Topic: outing.Weaken, Answer: outing.Yes}.Entry(),
		outing.Answered{Topic: outing.TooMuch, Answer: outing.Yes}.Entry(),
	} {
		if err := w.Append(outing.Record{At: at.Add(time.Duration(i) * time.Second), Entry: e}); err != nil {
			t.Fatal(err)
		}
	}
	return disk.String()
}

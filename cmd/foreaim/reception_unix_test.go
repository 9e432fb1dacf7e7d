//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// On the screen of the demonstration the mast that drowns the second pass is
// found, with the remedy that the worked outing has, and the ground towards it.
func TestDemoShowsTheMast(t *testing.T) {
	t.Parallel()
	p := onPty(t, nil, "demo")
	defer p.kill()
	p.awaitText("fix 11")
	p.press("h")
	p.awaitText("Strong transmitters do no harm here")
	p.press("\x1b")
	p.awaitText("Now ")
	p.press("s")
	p.awaitText("Satellite:")
	p.press("\r")
	p.awaitText("Pointing at TIDELARK")
	p.press("h")
	page := p.awaitText("made in the receiver") // the last line to be drawn
	for _, want := range []string{"RECEPTION of TIDELARK", "Take the preamplifier out.", "enough", "supply off before any plug", "Kvarn Hill", "makes noise"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the screen:\n%s", want, page)
		}
	}
	p.press("g")
	p.awaitText("IN SIGHT")
}

// The mast of the demonstration stands in line of sight on its hill, as its files
// have it: 60 m over ground of 150 m.
func TestDemoGround(t *testing.T) {
	for _, mast := range world.Transmitters() {
		if m := world.GroundM(mast.LatitudeDeg, mast.LongitudeDeg); m < mast.GroundM-5 || m > mast.GroundM+5 {
			t.Errorf("the ground at the mast is %.0f m high, want %.0f m within 5 m", m, mast.GroundM)
		}
		w, err := world.New(t.Context(), mustTime(testNow))
		if err != nil {
			t.Fatal(err)
		}
		if _, passage, err := wayFrom(terrain.GroundFunc(world.GroundM), mast, w.Spot()); err != nil || !passage.LineOfSight || passage.LossDB > 1 {
			t.Errorf("%+v %v", passage, err)
		}
	}
	if i := world.Drowned; len(world.Seen(i).Peaks) != 6 || len(world.Seen(i+1).Peaks) != 0 {
		t.Error("what was seen isn't that of the drowned pass")
	}
}

// What the demonstration's operator saw is what the files of the worked outing
// tell.
func TestDemoSawTheWorkedOuting(t *testing.T) {
	var peaks []radio.Peak
	for _, file := range []string{"peaks.csv", "peaks-10db.csv"} {
		seen, err := readFile(outingFolder+file, "", radio.ReadSeen)
		if err != nil {
			t.Fatal(err)
		}
		peaks = append(peaks, seen.Peaks...)
	}
	got := world.Seen(world.Drowned).Peaks
	if len(got) != len(peaks) {
		t.Fatalf("%d peaks, want %d", len(got), len(peaks))
	}
	for i := range peaks {
		if got[i] != peaks[i] {
			t.Errorf("peak %d: %+v, the file has %+v", i, got[i], peaks[i])
		}
	}
}

// A configuration's chain and transmitters reach the screen; what is missing for
// the link is said there with the way out, and a bad file of what was seen at once.
func TestPointShowsTheReception(t *testing.T) {
	t.Parallel()
	w, err := world.New(t.Context(), mustTime(testNow))
	if err != nil {
		t.Fatal(err)
	}
	sets := writeElements(t, w.Satellites[world.Drowned].Set)
	args := []string{"TIDELARK", "--elements", sets, "--site", "58.3127,14.0864,131", "--no-record"}
	p := onPty(t, nil, append(args, "--config", outingFolder+"radio.toml", "--seen", outingFolder+"peaks.csv")...)
	defer p.kill()
	p.awaitText("TIDELARK")
	p.press("h")
	page := p.awaitText("Take the preamplifier out.")
	if !strings.Contains(page, "Kvarn Hill") || !strings.Contains(page, "3 seen") {
		t.Errorf("the screen is\n%s", page)
	}
	p.press("g")
	p.awaitText("--terrain DIR")

	bare := filepath.Join(t.TempDir(), "bare.toml")
	if err := os.WriteFile(bare, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	q := onPty(t, nil, append(args, "--config", bare, "--frequency", "435.64M")...)
	defer q.kill()
	q.awaitText("TIDELARK")
	q.press("h")
	q.awaitText("its power is unknown: add --power 30")

	status, _, stderr := runHere(t, t.Context(), append(args, "--config", bare, "--seen", bare)...)
	if status != statusWrong || !strings.Contains(stderr, "bare.toml") {
		t.Errorf("status %d: %s", status, stderr)
	}
}

package main

import (
	"context"
	"math"
	"regexp"
	"strconv"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/gps"
	"foreaim/track"
	"foreaim/tui"
)

var (
	claimedTime  = regexp.MustCompile(`(\d\d:\d\d:\d\d) UTC`)
	claimedNow   = regexp.MustCompile(`Now (\d+)°?T \d+°?M (\d+)(?:°| deg)  (\d+) km`)
	claimedBurst = regexp.MustCompile(`BURST IN s (\d+)`)
	claimedClock = regexp.MustCompile(`[Cc]omputer ([\d.]+) s slow, corrected ±([\d.]+) s`)
)

// claim finds the numbers of a claim in a text.
func claim(t *testing.T, text string, what *regexp.Regexp) []float64 {
	t.Helper()
	found := what.FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("nothing like %v in\n%s", what, text)
	}
	var numbers []float64
	for _, f := range found[1:] {
		n, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		numbers = append(numbers, n)
	}
	return numbers
}

// What the screen claims of the invented outing is true, though it is told
// neither the true time nor the true place, only what the receiver sends down
// its line.
func TestDemoClaimsAreTrue(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	w, err := world.New(ctx, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	line, url, err := world.Line()
	if err != nil {
		t.Fatal(err)
	}
	defer line.Close()
	go world.Receiver{World: w, Truth: time.Now, Speed: 1}.Feed(ctx, line)
	laptop := func() time.Time { return w.Laptop(time.Now()) }
	receiver, err := gps.Open(ctx, url, gps.Options{Now: laptop})
	if err != nil {
		t.Fatal(err)
	}
	defer receiver.Close()
	var last gps.Report
	for !last.Clock.Known || !last.Fix.Valid() {
		last = <-receiver.Reports()
	}
	orbit, err := track.NewOrbit(w.Satellites[0].Set)
	if err != nil {
		t.Fatal(err)
	}
	reports := make(chan gps.Report, 1)
	reports <- last
	truth := time.Now()
	text := tui.Picture(tui.Config{
		Now:  func() time.Time { return w.Laptop(truth) },
		Zone: time.UTC, Reports: reports,
		Targets: []tui.Target{{Orbit: orbit, Name: "EMBERLING", FrequencyHz: w.Satellites[0].FrequencyHz, Schedule: w.Satellites[0].Schedule}},
	}, 120)

	clock := claim(t, text, claimedClock)
	slow, within := clock[0], clock[1]
	if off := math.Abs(slow - w.ClockSlow.Seconds()); off > within+0.5 { // it is told in whole seconds
		t.Errorf("the clock is said to be %g s slow ±%g, and is %v", slow, within, w.ClockSlow)
	}
	if off := math.Abs(last.Clock.OffsetS - w.ClockSlow.Seconds()); off > last.Clock.UncertaintyS {
		t.Errorf("the clock's error of %v is taken as %.2f s ± %.2f", w.ClockSlow, last.Clock.OffsetS, last.Clock.UncertaintyS)
	}

	look, err := orbit.Look(w.Site, truth)
	if err != nil {
		t.Fatal(err)
	}
	now := claim(t, text, claimedNow)
	// A low satellite moves by less than 1° in the stated second or so.
	if off := track.SeparationDeg(now[0], now[1], look.AzimuthDeg, look.ElevationDeg); off > 1.5 {
		t.Errorf("said to be at %v, is at %.1f° %.1f°", now, look.AzimuthDeg, look.ElevationDeg)
	}
	if off := math.Abs(now[2] - look.RangeKm); off > 10 {
		t.Errorf("said to be %g km away, is %.0f", now[2], look.RangeKm)
	}
	next := w.Satellites[0].Schedule.Next(truth)
	if off := math.Abs(claim(t, text, claimedBurst)[0] - next.Time.Sub(truth).Seconds()); off > 1+last.Clock.UncertaintyS {
		t.Errorf("the burst comes in %v, the screen says\n%s", next.Time.Sub(truth), text)
	}
}

// The real program in a real terminal: a pass is under way at once, the
// receiver's time arrives through the serial line, and the clock shown is the
// true one although the laptop's is 37 s slow.
func TestDemoRuns(t *testing.T) {
	term := inTerminal(t, 80, 24, "demo")
	screen := term.await("TURN", "UP", "BURST", "corrected ±", "EMBERLING")
	said := claimedTime.FindStringSubmatch(screen)
	if said == nil {
		t.Fatalf("no time on\n%s", screen)
	}
	clock, err := time.Parse(time.TimeOnly, said[1])
	if err != nil {
		t.Fatal(err)
	}
	now := time.Now().UTC()
	off := now.Sub(clock.AddDate(now.Year(), int(now.Month())-1, now.Day()-1))
	if off = off - off.Round(24*time.Hour); off.Abs() > 4*time.Second {
		t.Errorf("the screen says %v, it is %v", said[1], now)
	}
	term.press("?")
	term.await("turn the facing")
	term.press("?")
	term.await("BURST")
	term.press("p")
	term.await("Passes of EMBERLING")
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
}

// Without a terminal there is one picture in plain text.
func TestDemoWithoutATerminal(t *testing.T) {
	status, stdout, stderr := runHere(t, context.Background(), "demo")
	if status != statusDone || stderr != "" {
		t.Fatalf("status %d: %s", status, stderr)
	}
	claim(t, stdout, claimedNow)
	claim(t, stdout, claimedBurst)
	for _, r := range stdout {
		if r < ' ' && r != '\n' {
			t.Errorf("control character %q in\n%s", r, stdout)
		}
	}
}

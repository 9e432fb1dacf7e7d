package main

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/tui"
)

var (
	claimedTime  = regexp.MustCompile(`(\d\d:\d\d:\d\d) UTC`)
	claimedNow   = regexp.MustCompile(`Now (\d+)°?T \d+°?M (\d+)(?:°| deg)(?: \([^)]*\))?  (\d+) km`)
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
	t.Parallel()
	folder := t.TempDir()
	if _, err := program(); err != nil {
		t.Fatal(err)
	}
	begin := time.Now().UTC()
	term := inTerminalWith(t, 80, 24, []string{"TMPDIR=" + folder}, "demo")
	screen := term.await("TURN", "UP", "BURST", "corrected ±", "EMBERLING")
	said := claimedTime.FindStringSubmatch(screen)
	if said == nil {
		t.Fatalf("no time on\n%s", screen)
	}
	clock, err := time.Parse(time.TimeOnly, said[1])
	if err != nil {
		t.Fatal(err)
	}
	// The screen was drawn after the start and before now.
	after := clock.AddDate(begin.Year(), int(begin.Month())-1, begin.Day()-1).Sub(begin)
	if after -= after.Round(24 * time.Hour); after < -4*time.Second || after > time.Since(begin)+4*time.Second {
		t.Errorf("the screen says %v, %v after %v", said[1], after, begin)
	}
	term.press("?")
	term.await("turn the facing")
	term.press("?")
	term.await("BURST")
	term.press("p")
	term.await("Passes of EMBERLING")
	term.press("p")
	term.await("BURST NOW") // the first, 11 s after the start
	term.press("Space")
	term.await("1 heard")
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	files, err := filepath.Glob(filepath.Join(folder, "foreaim-demo-*", "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("records %q, %v", files, err)
	}
	term.await(filepath.Base(files[0])) // said at the end
	file, err := os.Open(files[0])
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	log, err := outing.Read(file, files[0])
	if err != nil || len(log.Faults) > 0 || len(log.Records) == 0 {
		t.Fatal(err, log.Faults, len(log.Records))
	}
	if start, ok := log.Records[0].Entry.(outing.StartEntry); !ok || !start.Demo {
		t.Errorf("the record begins with %+v", log.Records[0].Entry)
	}
	if state := outing.Resume(log); !state.Ended || len(state.Marks) != 1 || state.Marks[0].Kind != outing.Heard {
		t.Errorf("ended: %v, marks %+v", state.Ended, state.Marks)
	}
}

// What is said in the demonstration is stale when its laptop says so, however
// wrong that is and however fast its time runs.
func TestDemoSpeaksInRealTime(t *testing.T) {
	begin := mustTime(testNow)
	w := &world.World{Start: begin, ClockSlow: 37 * time.Second}
	p := demoPace{w, begin, 10}
	for _, after := range []time.Duration{0, 3 * time.Second, time.Hour} {
		now := begin.Add(after)
		if got := p.real(w.Laptop(p.truth(now))); !got.Equal(now) {
			t.Errorf("%v is taken for %v", now, got)
		}
	}
	var said mouth
	voice := demoVoice{&said, p}
	voice.Say("hold", w.Laptop(begin.Add(20*time.Second)), true)
	if want := begin.Add(2 * time.Second); !said.staleAfter.Equal(want) {
		t.Errorf("stale after %v, want %v", said.staleAfter, want)
	}
	if takes := voice.Speaking("hold"); takes != 10*time.Second {
		t.Errorf("a text of a second takes %v of a time that runs ten times as fast", takes)
	}
}

// mouth is a voice that takes a second for everything.
type mouth struct{ staleAfter time.Time }

func (m *mouth) Say(_ string, staleAfter time.Time, _ bool) { m.staleAfter = staleAfter }
func (m *mouth) Speaking(string) time.Duration              { return time.Second }
func (m *mouth) Problem() string                            { return "" }

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

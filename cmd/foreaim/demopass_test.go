package main

import (
	"bytes"
	"context"
	"io"
	"math"
	"os"
	"os/signal"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/tui"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/vt"
)

// memory is a disk of its own.
type memory struct{ bytes.Buffer }

func (*memory) Sync() error { return nil }

// tape is a record in memory.
type tape struct {
	mu      sync.Mutex
	records []outing.Record
}

func (t *tape) Record(at time.Time, e outing.Entry) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.records = append(t.records, outing.Record{At: at, Entry: e})
}

// all returns what was recorded up to now.
func (t *tape) all() []outing.Record {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.records)
}

func (t *tape) Status() outing.Status { return outing.Status{} }

// window is a terminal in memory.
type window struct {
	mu sync.Mutex
	*vt.Emulator
}

func (w *window) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.Emulator.Write(p)
}

func (w *window) text() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.String()
}

// hand is a simulated operator: it presses keys by what the world lets hear, as
// late as an ear does.
type hand struct {
	keys   io.Writer
	lastUp bool
}

func (h *hand) press(key string) { _, _ = io.WriteString(h.keys, key) } // a pipe to the program

// demoPass is the whole program in the first pass of the demonstration, in virtual
// time.
type demoPass struct {
	*hand
	world   *world.World
	now     func() time.Time
	record  *tape
	screen  *window
	bursts  []trueBurst
	sounded map[int]bool // by the number of the burst
}

// playDemo plays it with an operator who marks what the screen lets hear, and
// calls back between the bursts, once a second.
func playDemo(t *testing.T, change func(c *tui.Config, w *world.World), watch func(d *demoPass)) *demoPass {
	// The signal package keeps a goroutine from its first use on; it must not
	// be one of the virtual time's.
	unused := make(chan os.Signal, 1)
	signal.Notify(unused, os.Interrupt)
	defer signal.Stop(unused)

	var d *demoPass
	synctest.Test(t, func(t *testing.T) {
		w, err := world.New(t.Context(), mustTime("2026-11-25T18:00:00Z"))
		if err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		input, keys := io.Pipe()
		d = &demoPass{
			hand: &hand{keys: keys}, world: w, now: func() time.Time { return w.Start.Add(time.Since(began)) },
			record: &tape{}, screen: &window{Emulator: vt.NewEmulator(120, 40)}, sounded: map[int]bool{},
		}
		config := tui.Config{
			Now: d.now, Zone: time.UTC, Site: w.Site, SiteKnown: true, FacingKnown: true,
			Skyline: w.Skyline, Record: d.record, Silent: true, Title: "demo", Sounds: (&demoEar{Ear: world.Ear{World: w}}).listen,
		}
		for _, s := range w.Satellites {
			config.Targets = append(config.Targets, tui.Target{Orbit: s.Orbit, Name: s.Set.Name, FrequencyHz: s.FrequencyHz, Schedule: s.Schedule})
		}
		change(&config, w)
		var program *tea.Program
		ended := make(chan error, 1)
		go func() {
			ended <- tui.Run(t.Context(), config, tea.WithInput(input), tea.WithOutput(d.screen), tea.WithoutSignalHandler(),
				func(p *tea.Program) { program = p })
		}()
		synctest.Wait()
		defer func() { // also when the test gives up
			program.Quit()
			time.Sleep(time.Second)
			_ = keys.Close()
			if err := <-ended; err != nil {
				t.Error(err)
			}
			time.Sleep(time.Second) // the screen library's own goroutines end
		}()
		program.Send(tea.WindowSizeMsg{Width: 120, Height: 40})
		time.Sleep(time.Second)

		passes, err := w.Satellites[0].Orbit.Passes(context.Background(), w.Site, w.Start, w.Start.Add(time.Second), 0)
		if err != nil || len(passes) != 1 {
			t.Fatal(passes, err)
		}
		d.bursts = burstsOf(t, w, passes[0])
		for _, b := range d.bursts {
			// Between the bursts the screen is looked at, and the noise noticed.
			for d.now().Before(b.Time.Add(-2 * time.Second)) {
				time.Sleep(time.Second)
				synctest.Wait()
				if up := w.NoiseUp(d.now()); up != d.lastUp {
					d.lastUp = up
					d.press("n")
				}
				watch(d)
			}
			time.Sleep(b.Time.Sub(d.now()) + b.length + 500*time.Millisecond)
			synctest.Wait()
			if strings.Contains(d.screen.text(), "demo: a ") {
				d.sounded[b.Number] = true
				time.Sleep(300 * time.Millisecond) // 0.8 s after the burst's end
				d.press(" ")
			}
		}
		time.Sleep(10 * time.Second)
		synctest.Wait()
	})
	return d
}

// The whole program goes through the whole first pass of the demonstration. What
// it claims of where its elements have the satellite is so: directions within 1°
// on the screen, which shows whole degrees (a low satellite moves by up to 0.9° a
// second), and within 0.1° in the record, where nothing is to be learned; burst
// times within 10 ms; hidden bursts all of them. The marks of an operator who
// hears what the world lets hear are the bursts that sounded, no more and no less.
func TestDemoPassIsTrue(t *testing.T) {
	looked := 0
	d := playDemo(t, func(c *tui.Config, w *world.World) { c.FacingDeg = w.FacingDeg }, func(d *demoPass) {
		compareNow(t, d.world, d.screen.text(), d.now())
		looked++
	})
	if looked < 400 || len(d.sounded) < 6 {
		t.Errorf("looked %d times, %d beeps: too few to prove anything", looked, len(d.sounded))
	}
	compareRecord(t, d)
}

// The screen is told neither how late the satellite is nor how wrong the operator's
// north. What it says of both in the end is true within its 95 %, and it lets hear
// more bursts than one would by holding where the elements and that north have them.
func TestDemoFindsTheErrors(t *testing.T) {
	d := playDemo(t, func(c *tui.Config, w *world.World) {
		c.FacingDeg = w.BelievedDeg
		for i := range c.Targets {
			c.Targets[i].Likely, c.Targets[i].MarginDB = satellite{orbit: w.Satellites[i].Orbit}.likely, world.MarginDB
		}
	}, func(*demoPass) {})
	var last outing.AdviceEntry
	for _, r := range d.record.all() {
		if e, ok := r.Entry.(outing.AdviceEntry); ok && e.Time.Time.Before(d.bursts[len(d.bursts)-1].Time.Add(time.Second)) {
			last = e
		}
	}
	w := d.world
	lateS, headingDeg := w.Satellites[0].LateS, track.TurnDeg(w.BelievedDeg, w.FacingDeg)
	if off, sigma := last.TimeErrorS.Value-lateS, last.TimeErrorSigmaS.Value; !(math.Abs(off) < 2*sigma) || sigma > 30 {
		t.Errorf("said to be %g s ± %g s late, is %g s", last.TimeErrorS.Value, sigma, lateS)
	}
	if off, sigma := last.HeadingErrorDeg.Value-headingDeg, last.HeadingErrorSigmaDeg.Value; !(math.Abs(off) < 2*sigma) || sigma > 20 {
		t.Errorf("north is said to be off by %g° ± %g°, is by %g°", last.HeadingErrorDeg.Value, sigma, headingDeg)
	}
	led := 0
	for _, b := range d.bursts {
		if w.HeardWith(b.Burst, world.Boom{RightDeg: track.TurnDeg(w.BelievedDeg, b.predicted.AzimuthDeg), UpDeg: b.predicted.ElevationDeg}).Audible() {
			led++
		}
	}
	if len(d.sounded) <= led {
		t.Errorf("%d bursts were heard, %d by leading", len(d.sounded), led)
	}
}

// trueBurst is a burst of the pass with its length.
type trueBurst struct {
	world.Burst
	length    time.Duration
	predicted track.Look // by the elements
	hidden    bool       // so
}

// burstsOf returns what really happens in a pass, by the world.
func burstsOf(t *testing.T, w *world.World, p track.Pass) (all []trueBurst) {
	t.Helper()
	counts := map[string]int{}
	for at := w.Start; ; {
		b, err := w.NextBurst(0, at)
		if err != nil {
			t.Fatal(err)
		}
		if b.Time.After(p.Set.Time) {
			break
		}
		switch {
		case b.Hidden:
			counts["hidden"]++
		case b.Audible():
			counts["audible"]++
		default:
			counts["lost"]++
		}
		all = append(all, predict(t, w, b))
		at = b.Time.Add(1)
	}
	if counts["hidden"] < 1 || counts["lost"] < 2 || counts["audible"] < 10 {
		t.Fatalf("a pass with %v has too little to show", counts)
	}
	return all
}

// predict says where the elements have a burst, and whether it is hidden there.
func predict(t *testing.T, w *world.World, b world.Burst) trueBurst {
	s := w.Satellites[0]
	p := trueBurst{Burst: b, length: s.Schedule.Length, hidden: true}
	for _, at := range []time.Time{b.Time.Add(p.length), b.Time} {
		look, err := s.Orbit.Look(w.Site, at)
		if err != nil {
			t.Fatal(err)
		}
		p.predicted = look
		p.hidden = p.hidden && look.ElevationDeg <= math.Max(0, w.Skyline.ElevationDeg(look.AzimuthDeg))
	}
	return p
}

// compareNow holds the screen's line about the satellite now to the truth.
func compareNow(t *testing.T, w *world.World, text string, truth time.Time) {
	t.Helper()
	look, err := w.Satellites[0].Orbit.Look(w.Site, truth)
	if err != nil {
		t.Fatal(err)
	}
	now := claim(t, text, claimedNow)
	if off := track.SeparationDeg(now[0], now[1], look.AzimuthDeg, look.ElevationDeg); off > 1 {
		t.Errorf("%v: said to be at %v, is at %.1f° %.1f°", truth, now, look.AzimuthDeg, look.ElevationDeg)
	}
	if off := math.Abs(now[2] - look.RangeKm); off > 2 { // 7 km/s, ten frames a second, whole km
		t.Errorf("%v: said to be %g km away, is %.1f", truth, now[2], look.RangeKm)
	}
}

// compareRecord holds advice, holds and marks to the truth.
func compareRecord(t *testing.T, d *demoPass) {
	t.Helper()
	w, bursts, records := d.world, d.bursts, d.record.all()
	state := outing.Resume(outing.Log{Records: records})
	of := func(at time.Time) *trueBurst {
		for i, b := range bursts {
			if b.Time.Sub(at).Abs() <= 10*time.Millisecond {
				return &bursts[i]
			}
		}
		return nil
	}
	advised, noise := map[int]bool{}, 0
	for _, r := range records {
		switch e := r.Entry.(type) {
		case outing.AdviceEntry:
			b := of(e.Time.Time)
			if b == nil {
				continue // of the next pass, or the burst under way at the start
			}
			advised[b.Number] = true
			if off := track.SeparationDeg(e.AzimuthDeg.Value, e.ElevationDeg.Value, b.predicted.AzimuthDeg, b.predicted.ElevationDeg); off > 0.1 {
				t.Errorf("burst %d is advised at %v° %v°, is at %.2f° %.2f°", b.Number, e.AzimuthDeg.Value, e.ElevationDeg.Value, b.predicted.AzimuthDeg, b.predicted.ElevationDeg)
			}
		}
	}
	marks := map[int]outing.MarkKind{}
	for _, m := range state.Marks {
		if m.Fate != outing.Stands {
			continue
		}
		switch m.Kind {
		case outing.NoiseUp, outing.NoiseNormal:
			noise++
			if w.NoiseUp(m.At.Add(-1200*time.Millisecond)) == w.NoiseUp(m.At) {
				t.Errorf("%s at %v is not when the noise changed", m.Kind, m.At)
			}
		default:
			if b := of(m.Burst()); b == nil {
				t.Errorf("%s of a burst at %v that never was", m.Kind, m.Burst())
			} else {
				marks[b.Number] = m.Kind
			}
		}
	}
	if noise != 2 {
		t.Errorf("%d marks about the noise, want up and normal", noise)
	}
	for _, b := range bursts {
		if advised[b.Number] == b.hidden {
			t.Errorf("burst %d, hidden: %v, is advised: %v", b.Number, b.hidden, advised[b.Number])
		}
		want := outing.Silent
		switch {
		case d.sounded[b.Number]:
			want = outing.Heard
		case b.hidden:
			want = ""
		}
		if marks[b.Number] != want {
			t.Errorf("burst %d at %v is marked %q, want %q", b.Number, b.Time, marks[b.Number], want)
		}
	}
}

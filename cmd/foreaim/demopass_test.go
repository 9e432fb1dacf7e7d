package main

import (
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

// The whole program goes through the whole first pass of the demonstration in
// virtual time. What it claims on its screen and in its record is what is so in
// the invented world, of which it isn't told what can be heard: directions
// within 1° on the screen, which shows whole degrees (a low satellite moves by
// up to 0.9° a second), and within 0.1° in the record; burst times within 10 ms;
// hidden bursts all of them. The marks of an operator who hears what the world
// lets hear are the bursts that could be heard, no more and no less.
func TestDemoPassIsTrue(t *testing.T) {
	// The signal package keeps a goroutine from its first use on; it must not
	// be one of the virtual time's.
	unused := make(chan os.Signal, 1)
	signal.Notify(unused, os.Interrupt)
	defer signal.Stop(unused)

	synctest.Test(t, func(t *testing.T) {
		w, err := world.New(t.Context(), mustTime("2026-11-25T18:00:00Z"))
		if err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		now := func() time.Time { return w.Start.Add(time.Since(began)) }
		record, screen := &tape{}, &window{Emulator: vt.NewEmulator(120, 40)}
		input, keys := io.Pipe()
		h := &hand{keys: keys}
		config := tui.Config{
			Now: now, Zone: time.UTC, Site: w.Site, SiteKnown: true, FacingDeg: w.FacingDeg, FacingKnown: true,
			Skyline: w.Skyline, Record: record, Silent: true, Title: "demo", Sounds: w.Sounds,
		}
		for _, s := range w.Satellites {
			config.Targets = append(config.Targets, tui.Target{Orbit: s.Orbit, Name: s.Set.Name, FrequencyHz: s.FrequencyHz, Schedule: s.Schedule})
		}
		var program *tea.Program
		ended := make(chan error, 1)
		go func() {
			ended <- tui.Run(t.Context(), config, tea.WithInput(input), tea.WithOutput(screen), tea.WithoutSignalHandler(),
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
		bursts := burstsOf(t, w, passes[0])
		looked, beeps := 0, 0
		for _, b := range bursts {
			// Between the bursts the screen is looked at, and the noise noticed.
			for now().Before(b.Time.Add(-2 * time.Second)) {
				time.Sleep(time.Second)
				synctest.Wait()
				if up := w.NoiseUp(now()); up != h.lastUp {
					h.lastUp = up
					h.press("n")
				}
				compareNow(t, w, screen.text(), now())
				looked++
			}
			time.Sleep(b.Time.Sub(now()) + b.length + 500*time.Millisecond)
			synctest.Wait()
			heard := strings.Contains(screen.text(), "demo: a ")
			if heard != b.Audible() {
				t.Errorf("the screen says that there is a sound: %v, and in truth %+v", heard, b)
			}
			if b.Audible() {
				beeps++
				time.Sleep(300 * time.Millisecond) // 0.8 s after the burst's end
				h.press(" ")
			}
		}
		time.Sleep(10 * time.Second)
		if looked < 400 || beeps < 10 {
			t.Errorf("looked %d times, %d beeps: too few to prove anything", looked, beeps)
		}
		compareRecord(t, w, record.all(), bursts)
	})
}

// trueBurst is a burst of the pass with its length.
type trueBurst struct {
	world.Burst
	length time.Duration
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
		all = append(all, trueBurst{b, w.Satellites[0].Schedule.Length})
		at = b.Time.Add(1)
	}
	if counts["hidden"] < 2 || counts["lost"] < 2 || counts["audible"] < 10 {
		t.Fatalf("a pass with %v has too little to show", counts)
	}
	return all
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
func compareRecord(t *testing.T, w *world.World, records []outing.Record, bursts []trueBurst) {
	t.Helper()
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
			if off := track.SeparationDeg(e.AzimuthDeg.Value, e.ElevationDeg.Value, b.Look.AzimuthDeg, b.Look.ElevationDeg); off > 0.1 {
				t.Errorf("burst %d is advised at %v° %v°, is at %.2f° %.2f°", b.Number, e.AzimuthDeg.Value, e.ElevationDeg.Value, b.Look.AzimuthDeg, b.Look.ElevationDeg)
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
		if advised[b.Number] == b.Hidden {
			t.Errorf("burst %d, hidden: %v, is advised: %v", b.Number, b.Hidden, advised[b.Number])
		}
		want := outing.Silent
		switch {
		case b.Audible():
			want = outing.Heard
		case b.Hidden:
			want = ""
		}
		if marks[b.Number] != want {
			t.Errorf("burst %d at %v is marked %q, want %q", b.Number, b.Time, marks[b.Number], want)
		}
	}
}

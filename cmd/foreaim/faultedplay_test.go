package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"os/signal"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/tui"

	tea "github.com/charmbracelet/bubbletea"
)

// running is the whole program with its record in memory, in virtual time. Its
// receiver's reports come by the channel that they always come by, not over a serial
// line: waiting for a real device would stop virtual time.
type running struct {
	io.Writer // keys
	outing    *faulted
	now       func() time.Time // true
	disk      *memory
	record    *outing.Recorder
	reports   chan gps.Report
	program   *tea.Program
	ended     chan error

	mu   sync.Mutex
	told *world.Boom // where the screen says to hold the boom
	real world.Boom  // where it is held, for the sensor
}

// start starts it; with a state that it takes an outing up from, and its record.
func (f *faulted) start(t *testing.T, now func() time.Time, resume *outing.State, cut []byte) *running {
	input, keys := io.Pipe()
	r := &running{Writer: keys, outing: f, now: now, disk: &memory{}, reports: make(chan gps.Report, 1), ended: make(chan error, 1)}
	r.disk.Write(cut)
	r.record = outing.NewRecorder(r.disk, resume != nil)
	s := f.Satellites[0]
	config := tui.Config{
		Now: func() time.Time { return f.Laptop(now()) }, Zone: time.UTC, Reports: r.reports,
		FacingDeg: f.BelievedDeg, FacingKnown: true, Skyline: f.Skyline, Silent: true,
		Record: r.record, Start: outing.StartEntry{Outing: "20261125T180000Z", Continued: resume != nil}, Resume: resume,
		Targets: []tui.Target{{
			Orbit: s.Orbit, Name: s.Set.Name, FrequencyHz: s.FrequencyHz, Schedule: s.Schedule,
			Likely: satellite{orbit: s.Orbit}.likely, MarginDB: 6,
		}},
		Sounds: func(_ time.Time, boom *tui.Boom) string { r.follow(boom); return "" },
	}
	go func() {
		r.ended <- tui.Run(t.Context(), config, tea.WithInput(input), tea.WithOutput(io.Discard), tea.WithFPS(5), tea.WithoutSignalHandler(),
			func(p *tea.Program) { r.program = p })
	}()
	synctest.Wait()
	r.program.Send(tea.WindowSizeMsg{Width: 40, Height: 4})
	r.until(now().Add(time.Second))
	return r
}

// follow takes where the screen says to hold the boom.
func (r *running) follow(boom *tui.Boom) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.told = nil
	if boom != nil {
		r.told = &world.Boom{RightDeg: boom.RightDeg, UpDeg: boom.UpDeg}
	}
}

// hold holds the boom as the operator does who is told what is told now; false where
// nothing is.
func (r *running) hold() (world.Boom, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.told == nil {
		return world.Boom{}, false
	}
	r.real = r.outing.hand(*r.told)
	return r.real, true
}

// until lets time pass, with a report of the receiver each second.
func (r *running) until(end time.Time) {
	for r.now().Before(end) {
		time.Sleep(min(time.Second, end.Sub(r.now())))
		select {
		case r.reports <- r.report():
		default:
		}
		synctest.Wait()
	}
}

// report is what the receiver tells: the place, the time, and where a sensor on the
// boom that was set by the operator's north has it.
func (r *running) report() gps.Report {
	f, truth := r.outing, r.now()
	computer := f.Laptop(truth)
	report := gps.Report{
		State: gps.Fixed, Source: "serial", Sentences: 1, LastByte: computer,
		Fix: gps.Fix{
			Time: truth, Received: computer, LatitudeDeg: f.Site.LatitudeDeg, LongitudeDeg: f.Site.LongitudeDeg,
			AltitudeM: f.Site.HeightM, AltitudeKnown: true, Quality: "gps", SatellitesUsed: 11, HDOP: 0.9,
		},
		Clock: gps.Clock{Known: true, OffsetS: f.ClockSlow.Seconds(), UncertaintyS: 0.2, At: computer},
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if f.sensor {
		report.Heading = &gps.Heading{
			Received: computer, TrueKnown: true, PitchKnown: true,
			TrueDeg: track.Wrap360(f.BelievedDeg + r.real.RightDeg + 2*f.rng.NormFloat64()), PitchDeg: r.real.UpDeg + 2*f.rng.NormFloat64(),
		}
	}
	return report
}

// press presses keys as fast as a hand does.
func (r *running) press(keys string) {
	for _, key := range keys {
		_, _ = io.WriteString(r, string(key)) // a pipe to the program
		time.Sleep(150 * time.Millisecond)
		synctest.Wait()
	}
}

// stop ends the program, and what it has started.
func (r *running) stop(t *testing.T) {
	r.program.Quit()
	time.Sleep(time.Second)
	_ = r.Writer.(io.Closer).Close()
	if err := <-r.ended; err != nil {
		t.Error(err)
	}
	if err := r.record.Close(t.Context()); err != nil {
		t.Error(err)
	}
	time.Sleep(time.Second) // the screen library's own goroutines end
}

// played is what became of an outing.
type played struct {
	record []byte
	marked int // bursts that the operator marked as heard
	before int // that was killed
}

// inVirtualTime runs something in virtual time, from the outing's beginning.
func (f *faulted) inVirtualTime(t *testing.T, run func(t *testing.T, now func() time.Time)) {
	// The signal package's goroutine must not be one of the virtual time's.
	unused := make(chan os.Signal, 1)
	signal.Notify(unused, os.Interrupt)
	defer signal.Stop(unused)

	synctest.Test(t, func(t *testing.T) {
		began := time.Now()
		run(t, func() time.Time { return f.begin.Add(time.Since(began)) })
	})
}

// playUntil leaves the program again after so long, and returns its record.
func (f *faulted) playUntil(t *testing.T, ends time.Duration) (record []byte) {
	f.inVirtualTime(t, func(t *testing.T, now func() time.Time) {
		r := f.start(t, now, nil, nil)
		r.until(f.begin.Add(ends))
		r.stop(t)
		record = r.disk.Bytes()
	})
	return record
}

// inHold is how long before a burst the boom is where it is held for it.
const inHold = 4 * time.Second

// play plays the outing from before the pass to behind it. If killed, the program is
// killed in the middle, in the middle of a line of its record, and started again.
func (f *faulted) play(t *testing.T, killed bool) (p played) {
	f.inVirtualTime(t, func(t *testing.T, now func() time.Time) {
		r := f.start(t, now, nil, nil)
		defer func() {
			r.stop(t)
			p.record = r.disk.Bytes()
		}()
		told, back, noise := f.away[1] > 0 && f.awayTold, f.away[1] < 1, f.noiseMarked
		for b := f.burst(t, now()); b.Time.Before(f.pass.Set.Time); b = f.burst(t, b.Time.Add(1)) {
			// Half-way between the bursts everything else is done.
			r.until(b.Time.Add(-24 * time.Second))
			if noise {
				noise = false
				r.press("n")
			}
			if told && f.share(b.Time) >= f.away[0] {
				told = false
				r.press("l")
			}
			if f.awayTold && back && f.share(b.Time) > f.away[1] {
				back = false
				r.press("l")
			}
			if f.test != "" && f.share(now()) > 0.3 {
				r.press("x")
				for i, answer := range f.test {
					r.until(now().Add([]time.Duration{6, 5, 2}[i] * time.Second))
					r.press(string(answer))
				}
				r.until(now().Add(time.Second))
				r.press("x")
				f.test = ""
			}
			if killed && f.share(now()) > 0.5 {
				killed, p.before = false, p.marked
				r = f.killAndTakeUp(t, r)
			}
			sent := f.sent(t, b)
			r.until(sent.Time.Add(-inHold)) // a sensor tells of this hold, not of the last
			boom, ok := r.hold()
			r.until(sent.Time)
			if !ok {
				continue
			}
			if heard, marginDB, hz := f.hears(sent, boom); heard {
				p.marked++
				r.until(sent.Time.Add(f.Satellites[0].Schedule.Length + time.Duration((0.8+0.2*f.rng.NormFloat64())*1e9)))
				r.press(f.keysFor(t, sent.Time, marginDB, hz))
			}
		}
		r.until(f.pass.Set.Time.Add(20 * time.Second))
	})
	return p
}

// keysFor are the keys for a burst that was heard.
func (f *faulted) keysFor(t *testing.T, at time.Time, marginDB, hz float64) string {
	keys := " "
	if f.strengths { // again and again: strong, weak, good
		switch {
		case marginDB > 12:
			keys = "  "
		case marginDB > 5:
			keys = "    "
		default:
			keys = "   "
		}
	}
	look, err := f.Satellites[0].Orbit.Look(f.Site, at)
	if err != nil {
		t.Fatal(err)
	}
	off := math.Round((hz - track.ReceiveHz(f.Satellites[0].FrequencyHz, look.RangeRateKmS)) / 100)
	if f.tunes && math.Abs(off) < 100 {
		coarse, fine := ">", "+"
		if off < 0 {
			coarse, fine, off = "<", "-", -off
		}
		keys += strings.Repeat(coarse, int(off)/5) + strings.Repeat(fine, int(off)%5)
	}
	return keys
}

// killAndTakeUp kills the program while it writes a line, so that any part of that is
// lost, and starts it again a few seconds later with what there is of the record.
func (f *faulted) killAndTakeUp(t *testing.T, r *running) *running {
	written := bytes.Clone(r.disk.Bytes())
	r.stop(t) // what it writes then is lost with it
	last := len(written) - 1 - bytes.LastIndexByte(written[:len(written)-1], '\n')
	cut := written[:len(written)-1-f.rng.IntN(last-1)]
	log, err := outing.Read(bytes.NewReader(cut), "killed.jsonl")
	if err != nil || len(log.Faults) > 1 || len(log.Faults) == 1 && log.Faults[0].Reason != outing.Cut {
		t.Fatal("the record of the program that was killed:", err, log.Faults)
	}
	state := outing.Resume(log)
	if state.Ended || len(state.Marks) == 0 {
		t.Errorf("ended: %v, with %d marks", state.Ended, len(state.Marks))
	}
	time.Sleep(2 * time.Second)
	return f.start(t, r.now, &state, cut)
}

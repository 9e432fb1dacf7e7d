//go:build unix

package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
)

// burstLength is the length of the bursts; a hand marks them at handAfter.
const (
	burstLength = 1200 * time.Millisecond
	handAfter   = 2 * time.Second
	facingDeg   = 105
)

// passRun is the real program on a pass in real time: in a terminal, with a
// receiver at a serial port, an espeak-ng that speaks, and a computer whose
// clock is wrong.
type passRun struct {
	t      *testing.T
	term   *terminal
	voice  *voice
	state  string // folder of the record
	orbit  *track.Orbit
	site   track.Site
	bursts []track.Look // those that are waited for, after the one before
	shots  []shot
}

// shot is the screen at a true time.
type shot struct {
	at   time.Time
	text string
}

const clockSlow = 37400 * time.Millisecond

// truth is the true time, by the invented receiver.
func truth() time.Time { return time.Now().Add(clockSlow) }

// startPass starts the program for the bursts of a pass from a time on; the
// burst before them, if the pass has one, is bursts[0].
func startPass(t *testing.T, set elements.Set, site track.Site, first time.Time, period time.Duration, until time.Time) *passRun {
	t.Helper()
	r := &passRun{t: t, orbit: orbitOf(t, set), site: site, voice: newVoice(t, clockSlow), state: t.TempDir()}
	for at := first.Add(-period); at.Before(until); at = at.Add(period) {
		look, err := r.orbit.Look(site, at)
		if err != nil {
			t.Fatal(err)
		}
		r.bursts = append(r.bursts, look)
	}
	config := filepath.Join(t.TempDir(), "config.toml")
	if err := os.WriteFile(config, fmt.Appendf(nil, "[voice]\ncommand = %q\n", r.voice.command()), 0o600); err != nil {
		t.Fatal(err)
	}
	port := filepath.Join(t.TempDir(), "receiver")
	t.Cleanup(plug(t, &world.World{Site: site, GeoidM: 31.5}, truth, port))
	r.term = inTerminalWith(t, 80, 24, []string{"XDG_STATE_HOME=" + r.state}, "--config", config, "--elements", writeElements(t, set),
		"--source", "serial://"+port+"?baud=9600", "--facing", fmt.Sprint(facingDeg), "--frequency", "436.215M",
		"--period", period.String(), "--first", first.UTC().Format(time.RFC3339Nano), "--length", burstLength.String())
	return r
}

// until photographs the screen until a true time.
func (r *passRun) until(at time.Time) {
	r.t.Helper()
	for truth().Before(at) {
		r.shots = append(r.shots, shot{truth(), r.term.screen()})
		time.Sleep(200 * time.Millisecond)
	}
}

// A short pass from before its rise to after its set.
func TestWholePass(t *testing.T) {
	t.Parallel()
	built(t) // before the clock runs
	const lasts, period = 38 * time.Second, 12 * time.Second
	rise := truth().Add(14 * time.Second)
	set, site := shortPass(t, rise, lasts)
	first := rise.Add(1500 * time.Millisecond).Round(time.Millisecond)
	r := startPass(t, set, site, first, period, rise.Add(lasts))
	r.bursts[0] = track.Look{} // before the rise
	r.until(r.bursts[1].Time.Add(handAfter))
	r.term.press("Space")
	r.term.await("Burst 1 heard", "1 heard")
	time.Sleep(200 * time.Millisecond) // a hand, not a bouncing contact
	r.term.press("Space")
	r.term.await("heard, strong")
	r.until(r.bursts[2].Time.Add(handAfter))
	r.term.press("Enter")
	r.term.await("2 heard")
	r.term.press("u")
	r.term.await("1 heard 1 silent")
	r.term.press("n", "l")
	r.term.await("NOISE UP", "NOT LISTENING")
	r.until(r.bursts[3].Time.Add(handAfter + 3*time.Second))
	r.term.press("l", "n")
	r.term.awaitWhere("noise and listening as usual", func(s string) bool {
		return !strings.Contains(s, "NOISE UP") && !strings.Contains(s, "NOT LISTENING")
	})
	r.until(r.bursts[4].Time.Add(handAfter))
	r.term.press("PageDown")
	r.term.await("2 heard 1 silent")
	r.until(rise.Add(lasts + time.Second))
	r.term.await("PASS OVER")
	r.checkInstructions()
	r.checkMarks([]outing.Mark{
		{Kind: outing.Heard, Strength: outing.Strong, Origin: r.origin(1)},
		{Kind: outing.Silent, Origin: r.origin(2), Automatic: true},
		{Kind: outing.NoiseUp}, {Kind: outing.NotListening},
		{Kind: outing.NotListening, Origin: r.origin(3), Automatic: true},
		{Kind: outing.NoiseNormal},
		{Kind: outing.Heard, Origin: r.origin(4)},
	})
	r.checkReview()
}

// The middle of a high pass, where the antenna has far to go, or, with
// FOREAIM_WHOLE_PASS set, all of it: ten minutes. The elements are a week old, so
// aims follow from what was heard and missed, or, learning switched off, from the
// elements alone.
func TestHighPass(t *testing.T) {
	t.Parallel()
	for name, learning := range map[string]bool{"learning": true, "as predicted": false} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			highPass(t, learning)
		})
	}
}

func highPass(t *testing.T, learning bool) {
	built(t)
	whole := os.Getenv("FOREAIM_WHOLE_PASS") != ""
	rise := truth().Add(10 * time.Second)
	if !whole {
		rise = rise.Add(-5 * time.Minute)
	}
	w := emberlingRising(t, rise)
	passes, err := orbitOf(t, w.Satellites[0].Set).Passes(context.Background(), w.Site, rise, rise.Add(time.Minute), 0)
	if err != nil || len(passes) != 1 {
		t.Fatalf("passes %v, %v", passes, err)
	}
	const period = 10 * time.Second
	// Time enough for a busy machine to come up and say the first way, the longest.
	first := truth().Add(20 * time.Second).Round(time.Millisecond)
	until := first.Add(period + time.Second)
	if whole {
		until = passes[0].Set.Time
	}
	r := startPass(t, w.Satellites[0].Set, w.Site, first, period, until)
	if !learning {
		r.term.await("corrected")
		r.term.press("a")
		r.term.await("not learning")
	}
	var want []outing.Mark
	for i := range r.bursts[1:] {
		number := i + 1
		mark := outing.Mark{Kind: outing.Silent, Origin: r.origin(number), Automatic: true}
		r.until(r.bursts[number].Time.Add(handAfter))
		switch number % 3 {
		case 1:
			r.term.press("NPage")
			mark = outing.Mark{Kind: outing.Heard, Origin: r.origin(number)}
		case 2:
			r.term.press("Space")
			r.term.await("heard")
			r.term.press("PPage")
		}
		want = append(want, mark)
		if number == 1 && !learning {
			r.term.press("Right") // the facing is 1° further right
		}
	}
	r.until(r.bursts[len(r.bursts)-1].Time.Add(handAfter + 3*time.Second))
	if learning {
		r.checkAdvised()
	} else {
		r.checkInstructions()
	}
	r.checkMarks(want)
}

// origin is the burst of a number, as a mark tells of it.
func (r *passRun) origin(number int) outing.Origin {
	return outing.Origin{Expected: true, Start: r.bursts[number].Time}
}

// checkInstructions checks that for every burst there was an instruction, begun
// before the burst, right by the orbit, and the same as on the screen until the
// burst.
func (r *passRun) checkInstructions() {
	t := r.t
	t.Helper()
	said := r.voice.said(t)
	for _, s := range said {
		if s.wav == "" {
			continue
		}
		if err := checkWAV(s.wav); err != nil {
			t.Error(err)
		}
	}
	var compared, turned int
	for i := 1; i < len(r.bursts); i++ {
		last, to := &r.bursts[i-1], r.bursts[i]
		if last.Time.IsZero() {
			last = nil
		}
		var instruction *way
		var at time.Time
		for _, s := range said {
			if last != nil && s.begun.Before(last.Time) || !s.begun.Before(to.Time) {
				continue
			}
			w, ok := spokenWay(s.text)
			if !ok {
				continue
			}
			if instruction == nil && s.wav == "" {
				t.Errorf("burst %d: %q was not spoken to its end", i, s.text)
			}
			instruction, at = &w, s.begun
			if off := w.off(last, facingDeg, to); off != "" {
				t.Errorf("burst %d: %q was said: %s", i, s.text, off)
			}
			if w.turn != 0 {
				turned++
			}
		}
		if instruction == nil {
			t.Errorf("burst %d at %s: no instruction before it", i, to.Time.Format(time.TimeOnly))
			continue
		}
		for _, s := range r.shots {
			shown, ok := shownWay(s.text)
			// The voice's diary and the screen are up to a moment apart.
			if !ok || s.at.Before(at.Add(500*time.Millisecond)) || !s.at.Before(to.Time) {
				continue
			}
			compared++
			if off := shown.off(last, facingDeg, to); off != "" {
				t.Errorf("burst %d: %s\non the screen\n%s", i, off, s.text)
			}
			if shown.fromAhead != instruction.fromAhead || !shown.fromAhead && (shown.turn != instruction.turn || shown.up != instruction.up) {
				t.Errorf("burst %d: %+v was said, and on the screen is\n%s", i, *instruction, s.text)
			}
		}
	}
	for _, s := range said {
		nearest := math.Inf(1)
		for _, b := range r.bursts {
			nearest = min(nearest, math.Abs(s.begun.Sub(b.Time).Seconds()))
		}
		if s.text == "burst" && nearest > 3 {
			t.Errorf("%q was said %.1f s off any burst", s.text, nearest)
		}
	}
	if bursts := len(r.bursts) - 1; compared < 3*bursts || turned < bursts/2 {
		t.Errorf("%d screens compared, %d turns said, for %d bursts: too few to prove anything", compared, turned, bursts)
	}
	for _, s := range said {
		t.Logf("%s %s", s.begun.Format("15:04:05.0"), s.text)
	}
}

// checkMarks leaves the program and checks that its record, read back and taken
// up, gives the marks that were pressed and that the screen showed.
func (r *passRun) checkMarks(want []outing.Mark) {
	t := r.t
	t.Helper()
	for _, s := range r.shots { // once the clock is known, and up to the set
		if strings.Contains(s.text, " BURST ") && s.at.After(r.bursts[1].Time) && s.at.Before(r.bursts[len(r.bursts)-1].Time) && !strings.Contains(s.text, "Recorder running?") {
			t.Fatalf("nobody has confirmed the recorder, and it isn't asked for:\n%s", s.text)
		}
	}
	screen := r.term.screen()
	r.term.press("q")
	if status := r.term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	log, state := readRecord(t, onlyRecord(t, r.state))
	if len(log.Faults) > 0 {
		t.Errorf("faults in the record: %v", log.Faults)
	}
	marks := outing.NewMarks(outing.DefaultEar(), burstLength)
	if err := marks.Restore(state.Marks, state.Last); err != nil {
		t.Fatal(err)
	}
	got := marks.All()
	heard, silent := tallyOf(got)
	if count := fmt.Sprintf("%d heard %d silent", heard, silent); !strings.Contains(screen, count) {
		t.Errorf("the record has %s, the screen was\n%s", count, screen)
	}
	// Whether the burst before the first is waited for depends on how soon the program has the time.
	got = slices.DeleteFunc(got, func(m outing.Mark) bool {
		return m.Automatic && m.Origin.Expected && m.Origin.Start.Sub(r.bursts[1].Time) < -time.Second
	})
	same := func(got, want outing.Mark) bool {
		return got.Kind == want.Kind && got.Strength == want.Strength && got.Automatic == want.Automatic &&
			got.Origin.Expected == want.Origin.Expected && got.Origin.Start.Sub(want.Origin.Start).Abs() <= time.Millisecond
	}
	if !slices.EqualFunc(got, want, same) {
		t.Errorf("the record has the marks\n%+v\nwant\n%+v", got, want)
	}
}

// tallyOf counts marks that stand.
func tallyOf(marks []outing.Mark) (heard, silent int) {
	for _, m := range marks {
		switch {
		case m.Fate != outing.Stands:
		case m.Kind == outing.Heard:
			heard++
		case m.Kind == outing.Silent:
			silent++
		}
	}
	return heard, silent
}

// onlyRecord returns the one record below a folder for state.
func onlyRecord(t *testing.T, state string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(state, "foreaim", "outings", "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("records %q, %v", files, err)
	}
	return files[0]
}

// readRecord reads a record and what it comes to.
func readRecord(t *testing.T, path string) (outing.Log, outing.State) {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	log, err := outing.Read(file, path)
	if err != nil {
		t.Fatal(err)
	}
	return log, outing.Resume(log)
}

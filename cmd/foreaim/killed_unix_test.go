//go:build unix

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreaim/track/outing"
)

// kills is how often the program is killed, unless FOREAIM_KILLS says it: 200
// take about half a minute.
const kills = 60

// seen is what the screen had come to when it showed the answer to a key.
type seen struct {
	noise    int     // marks of the noise, ever
	note     string  // or the note that was typed
	heard    int     // by the screen; -1: no mark yet
	facing   float64 // as the keys have turned it
	recorder bool    // confirmed
}

// ordeal is one outing through many kills.
type ordeal struct {
	t      *testing.T
	random *rand.Rand
	at     seen // what has been shown last, in this life or one before
	shown  []seen
	notes  int
}

// The real program is killed at random moments, most of them amid keys. Each
// time every line of its record can be read, what the screen had shown is in it
// but for the last at most, and the next start shows the same marks, facing and
// checklist.
func TestKilledAmidKeys(t *testing.T) {
	t.Parallel()
	n := kills
	if text := os.Getenv("FOREAIM_KILLS"); text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil || n < 1 {
			t.Fatalf("FOREAIM_KILLS is %q, want a number of kills", text)
		}
	}
	built(t)
	w := emberlingRising(t, time.Now().Add(-15*time.Second))
	state := t.TempDir()
	env := []string{"XDG_STATE_HOME=" + state, "XDG_CONFIG_HOME=" + state, "XDG_DATA_HOME=" + state}
	args := []string{"--elements", writeElements(t, w.Satellites[0].Set), "--site", "58.3127,14.0864,131", "--period", "30s",
		"--first", w.Satellites[0].Schedule.First.Format(time.RFC3339Nano), "--silent"}
	o := &ordeal{t: t, random: rand.New(rand.NewPCG(7, 9)), at: seen{heard: -1, facing: facingDeg}}

	p := onPty(t, env, append(args, "--facing", fmt.Sprint(facingDeg))...)
	p.awaitText("of ahead")
	o.pressKeys(p)
	p.kill()
	log, left := o.check(readRecord(t, onlyRecord(t, state)))
	early, entries := 0, len(log.Records)
	for range n - 1 {
		p := onPty(t, env, args...)
		if o.random.IntN(5) == 0 { // killed while it starts
			early++
			time.Sleep(time.Duration(o.random.IntN(300)) * time.Millisecond)
			p.kill()
		} else {
			screen := p.awaitText("The outing is taken up again")
			o.checkTakenUp(p, screen, left)
			o.pressKeys(p)
			p.kill()
		}
		log, left = o.check(readRecord(t, onlyRecord(t, state)))
		if t.Failed() {
			t.FailNow()
		}
	}
	if len(log.Records) < entries+n {
		t.Errorf("only %d entries after %d kills: too few to prove anything", len(log.Records), n)
	}
	checkReviewed(t, onlyRecord(t, state), left)
	t.Logf("%d kills, %d of them while it started, %d entries, %d cut", n, early, len(log.Records), len(log.Faults))
}

// pressKeys presses some keys, each when the screen has answered the one before,
// and then one more without waiting for the answer.
func (o *ordeal) pressKeys(p *ptyScreen) {
	for range 1 + o.random.IntN(5) {
		o.pressOne(p, true)
	}
	o.pressOne(p, false)
	time.Sleep(time.Duration(o.random.IntN(20_000)) * time.Microsecond)
}

// pressOne presses keys that change something, and waits for it to show.
func (o *ordeal) pressOne(p *ptyScreen, answered bool) {
	o.t.Helper()
	next := o.at
	next.note = ""
	switch o.random.IntN(5) {
	case 0: // a note
		if !answered { // three keys, so three answers
			return
		}
		o.notes++
		next.note = fmt.Sprintf("note %d of the meadow", o.notes)
		p.press("t")
		p.awaitText("Note:")
		p.press(next.note + "\r")
		o.see(p.awaitText("Noted: "+next.note), next)
		return
	case 1: // the recorder
		if !answered {
			p.press("r")
			return
		}
		next.recorder = !next.recorder
		p.press("r")
		p.await("the recorder's answer", func(s string) bool { return strings.Contains(s, "Recorder running?  r: yes") != next.recorder })
	case 2:
		p.press("\x1b[C")
		next.facing++
	case 3:
		p.press("\x1b[D")
		next.facing--
	case 4:
		p.press(" ")
	}
	p.press("n")
	next.noise++
	if !answered {
		return
	}
	up := next.noise%2 == 1
	o.see(p.await("the noise's answer", func(s string) bool { return strings.Contains(s, "NOISE UP") == up }), next)
}

var heardShown = regexp.MustCompile(`(\d+) heard \d+ silent`)

// see takes down what the screen shows.
func (o *ordeal) see(screen string, s seen) {
	o.t.Helper()
	s.heard = -1
	if found := heardShown.FindStringSubmatch(screen); found != nil {
		s.heard, _ = strconv.Atoi(found[1])
	}
	o.at = s
	o.shown = append(o.shown, s)
}

// check checks the record after a kill against what the screen has shown.
func (o *ordeal) check(log outing.Log, state outing.State) (outing.Log, outing.State) {
	t := o.t
	t.Helper()
	for _, f := range log.Faults {
		if f.Reason != outing.Cut {
			t.Errorf("%v", f)
		}
	}
	missing := 0
	for _, s := range o.shown {
		upTo := anchor(log, s)
		if upTo == 0 {
			missing++
			continue
		}
		then := outing.Resume(outing.Log{Records: log.Records[:upTo]})
		heard, _ := tallyOf(then.Marks)
		if s.heard >= 0 && heard != s.heard {
			t.Errorf("the screen had %d heard, the record %d at %+v", s.heard, heard, s)
		}
		if then.Facing == nil || then.Facing.AzimuthDeg.Value != s.facing {
			t.Errorf("the record has the facing %+v at %+v", then.Facing, s)
		}
		if confirmed(then) != s.recorder {
			t.Errorf("the record has the recorder %v at %+v", confirmed(then), s)
		}
	}
	if missing > 1 {
		t.Errorf("%d entries lost that were on the screen", missing)
	}
	// The keys after the last answer may or may not have come so far.
	o.shown = nil
	o.at.noise, o.at.recorder = noiseMarks(log), confirmed(state)
	if state.Facing == nil {
		t.Fatal("the facing is lost")
	}
	o.at.facing = state.Facing.AzimuthDeg.Value
	return log, state
}

// anchor returns how many records there are up to what was seen; 0 when it
// isn't among them.
func anchor(log outing.Log, s seen) int {
	noise := 0
	for i, r := range log.Records {
		if isNoise(r.Entry) {
			noise++
			if s.note == "" && noise == s.noise {
				return i + 1
			}
		}
		if e, ok := r.Entry.(outing.NoteEntry); ok && s.note != "" && string(e.Text) == s.note {
			return i + 1
		}
	}
	return 0
}

// isNoise tells whether an entry is a mark of the noise.
func isNoise(entry outing.Entry) bool {
	e, ok := entry.(outing.MarkEntry)
	return ok && (e.Mark == outing.NoiseUp || e.Mark == outing.NoiseNormal)
}

func noiseMarks(log outing.Log) (n int) {
	for _, r := range log.Records {
		if isNoise(r.Entry) {
			n++
		}
	}
	return n
}

// confirmed tells whether the recorder was confirmed.
func confirmed(state outing.State) bool {
	for _, c := range state.Checks {
		if c.Name == "recorder" {
			return c.Done
		}
	}
	return false
}

// checkTakenUp checks the first screen of a life against the record before it.
func (o *ordeal) checkTakenUp(p *ptyScreen, screen string, before outing.State) {
	t := o.t
	t.Helper()
	heard, silent := tallyOf(before.Marks)
	if want := fmt.Sprintf("The outing is taken up again: %d heard %d silent", heard, silent); !strings.Contains(screen, want) {
		t.Errorf("want %q on\n%s", want, screen)
	}
	// What is awaited is what must come: a terminal may show a picture half drawn.
	p.await(fmt.Sprintf("the screen taken up after %d marks of the noise, the recorder confirmed: %v", o.at.noise, o.at.recorder), func(s string) bool {
		return strings.Contains(s, "of ahead") && strings.Contains(s, "NOISE UP") == (o.at.noise%2 == 1) &&
			strings.Contains(s, "Recorder running?") != o.at.recorder
	})
}

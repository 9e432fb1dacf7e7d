package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// until lets virtual time pass up to a moment after start.
func (p *player) until(after time.Duration) {
	p.t.Helper()
	d := start.Add(after).Sub(p.now())
	if d < 0 {
		p.t.Fatalf("%s is over already", after)
	}
	p.wait(d)
}

// The keys as terminals send them (ECMA-48 and the SGR mouse mode, as terminals
// commonly have them).
const (
	pageDown, pageUp = "\x1b[6~", "\x1b[5~"
	click            = "\x1b[<0;10;10M\x1b[<0;10;10m"
	rightClick       = "\x1b[<2;10;10M\x1b[<2;10;10m"
)

// A pass with presses at the right and at wrong times. Bursts are 2 s long, 30 s
// apart, and number 6 of the pass begins 113 s before its peak: 166.5 s after
// the rise, 16.5 s after which the first began.
func TestMarks(t *testing.T) {
	s := stories["move"]
	play(t, s, 80, 24, func(p *player) {
		p.miss("silent")
		p.until(-110 * time.Second)
		p.press(" ")
		once := func(what string) { // though two rows could say it
			t.Helper()
			p.want(what, "1 heard 0 silent")
			if n := strings.Count(p.text(), what); n != 1 {
				t.Errorf("%q is said %d times:\n%s", what, n, p.text())
			}
		}
		once("Burst 6 heard")
		p.press(" ") // a second press within four seconds: how well
		once("Burst 6 heard, strong")
		p.press(" ")
		once("Burst 6 heard, weak")

		p.until(-82 * time.Second) // in mid-burst nothing is decided
		p.miss("Burst 7 silent")
		p.want("Burst 6 heard, weak  1 heard 0 silent")
		p.until(-77 * time.Second) // hope ends 83 - 2 - 0.8 - 3·√(0.3²+0.3²) = 78.9 s before the peak
		p.want("Burst 7 silent  1 heard 1 silent")
		p.press("u")
		p.want("Taken back: burst 7 silent", "1 heard 0 silent")
		p.press("\x7f") // Backspace takes back the mark before
		p.want("Taken back: burst 6 heard, weak")
		p.press("u") // not heard after all is silent
		p.want("Taken back: burst 6 silent")
		p.press("u")
		p.want("no mark to take back")

		p.press("l")
		p.want("NOT LISTENING")
		p.until(-47 * time.Second)
		p.want("Burst 8 not listened to", "0 heard 0 silent 1 missed")
		p.press("l")
		p.miss("NOT LISTENING")

		p.press("n")
		p.want("NOISE UP")
		p.press("n")
		p.miss("NOISE UP")

		p.until(-32 * time.Second) // midway between two bursts
		p.press(pageDown)
		once("Heard, where none was due")
		p.press(pageUp)
		p.want("Taken back: heard, where none was due")
		p.until(-20 * time.Second)
		p.press(click)
		p.want("Burst 9 heard", "1 heard 0 silent")
		p.press(rightClick)
		p.want("Taken back: burst 9 heard")
		p.wait(2 * time.Second)
		p.want("Burst 9 silent", "0 heard 1 silent")
		p.press("p", " ", "\x1b") // in another view Space marks nothing
		p.wait(time.Second)
		p.want("0 heard 1 silent 1 missed")
	})
}

// A frequency steps from where the orbit says that it was at the burst, 437.45
// MHz by the range rate of burst 6.
func TestMarkFrequency(t *testing.T) {
	s := stories["move"]
	look, err := s.object.Look(meadow, start.Add(-113*time.Second))
	if err != nil {
		t.Fatal(err)
	}
	expected := track.ReceiveHz(437.45e6, look.RangeRateKmS)
	play(t, s, 80, 24, func(p *player) {
		p.press("+")
		p.want("mark that first")
		p.until(-110 * time.Second)
		p.press("\r", "+")
		p.want(fmt.Sprintf("Burst 6 heard, %.4f MHz", (expected+100)/1e6))
		p.press("<", "<", "-")
		p.want(fmt.Sprintf("Burst 6 heard, %.4f MHz", (expected-1000)/1e6))
		p.press(">")
		p.want(fmt.Sprintf("Burst 6 heard, %.4f MHz", (expected-500)/1e6))
	})
}

// The tally takes no room from what an operator points by.
func TestTallyKeepsTheRest(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {53, 20}} {
		play(t, stories["move"], size[0], size[1], func(p *player) {
			p.until(-110 * time.Second)
			p.press(" ", "n", "l")
			p.wait(10 * time.Second) // the message is over
			p.want("1 heard 0 silent", "NOISE UP NOT LISTENING", "MOVE", "Now ", "437.4", "clock", "? help", "BURST IN")
			rows := strings.Split(p.text(), "\n")
			if !strings.Contains(rows[6], "MOVE") || !strings.Contains(rows[len(rows)-1], "? help") {
				t.Errorf("rows have moved:\n%s", p.text())
			}
		})
	}
}

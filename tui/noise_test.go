package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Between two bursts the test is asked, answered and told, the digits stay, and
// the answers are in the record with the hold that they were given in. Burst 6
// begins 113 s before the peak; one must be ready for it 1.6 s earlier.
func TestNoiseTest(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {53, 20}} {
		d := newDisk()
		play(t, recorded(d), size[0], size[1], func(p *player) {
			p.press("n")
			p.want("Noise up: x asks")
			p.press("x")
			p.want("Turn the antenna a quarter circle away. Does the", "noise drop?", "BURST IN", "TURN RIGHT")
			p.miss("MOVE")
			p.press("y")
			p.want("Put the attenuator in, 10 dB.")
			p.press("1") // the same as y
			p.want("Does it drop by much more than 10 dB")
			p.press("n")
			p.want("External noise in the beam", "Attenuator out. Go on where it is weaker", "MOVE")
			p.until(-112 * time.Second)
			p.want("BURST NOW", "External noise in the beam") // until it is dismissed
			p.press("n")                                      // no answer any more
			p.want("Noise normal")
			p.press("x")
			p.miss("External noise in the beam")
		})
		answers := map[string]string{}
		for _, a := range d.state(t).Answers {
			answers[string(a.Item)] = string(a.Answer)
			if a.Item == "weaken" && (!a.AzimuthDeg.Known || a.ElevationDeg.Value < 10) {
				t.Errorf("the answer is recorded without its aim: %+v", a)
			}
		}
		want := map[string]string{"turn away": "yes", "weaken": "yes", "too much": "no", "finding": "external noise in the beam"}
		if fmt.Sprint(answers) != fmt.Sprint(want) {
			t.Errorf("recorded %v, want %v", answers, want)
		}
	}
}

// A burst breaks the test off in time: the question about the attenuator needs
// 8 s, so from 9.6 s before the burst on it is not asked. It goes on after.
func TestNoiseTestBreaks(t *testing.T) {
	play(t, stories["move"], 80, 24, func(p *player) {
		p.press("x", "y")
		p.want("Put the attenuator in")
		p.until(-123 * time.Second)
		p.want("Put the attenuator in")
		p.until(-122 * time.Second)
		p.want("Attenuator out. Back to the aim.", "goes on after the burst", "MOVE")
		p.press("y")
		p.want("No time before the burst")
		p.until(-113*time.Second + 500*time.Millisecond)
		p.want("BURST NOW")
		p.until(-109 * time.Second)
		p.want("Put the attenuator in")
		p.press("x")
		p.want("Noise test left. Attenuator out. Back to the aim.")
		p.press("y")
		if strings.Contains(p.text(), "Does it drop") {
			t.Errorf("answered after it was left:\n%s", p.text())
		}
	})
}

func TestNoiseScreens(t *testing.T) {
	for _, size := range [][2]int{{53, 20}, {80, 24}} {
		m := picture(t, stories["move"], size[0], size[1])
		press(t, m, "n", "x")
		golden(t, fmt.Sprintf("question-%dx%d", size[0], size[1]), m.page.plain())
		press(t, m, "y", "y", "y")
		golden(t, fmt.Sprintf("finding-%dx%d", size[0], size[1]), m.page.plain())
	}
	m := picture(t, stories["trouble"], 80, 24)
	press(t, m, "x")
	if page := m.page.plain(); !strings.Contains(page, "needs a pass to aim at") {
		t.Errorf("a test without an aim:\n%s", page)
	}
}

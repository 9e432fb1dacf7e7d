package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track/outing"
)

// listed is a story with the default checklist.
func listed(s story) story {
	change := s.change
	s.change = func(c *Config) {
		c.Checks = nil
		if change != nil {
			change(c)
		}
	}
	return s
}

// The pass of the usual story rises 279.5 s before its peak. The recorder is due
// 5 min before rise.
func TestChecklist(t *testing.T) {
	t.Parallel()
	d := newDisk()
	s := recorded(d)
	s.at = -600 * time.Second // 5 min 20 s before rise
	play(t, listed(s), 80, 24, func(p *player) {
		p.miss("Recorder")
		p.until(-570 * time.Second)
		p.want("Recorder running?  r: yes")
		p.until(-130 * time.Second) // in mid-pass
		p.want("Recorder running?  r: yes", "MOVE", "LARKSPUR-2")
		p.press("r")
		p.want("Recorder running? Yes.")
		p.wait(10 * time.Second)
		p.miss("Recorder running?")
		p.press("r")
		p.want("Recorder running? Not any more.", "r: yes")

		p.press("c")
		p.want("Checklist for the pass of LARKSPUR-2", "Clock right?", "NO: nothing to check the clock by", "Facing set?", "found right", "too late")
		p.press("j", "\r") // the second: room for the record
		p.want("Room for the record? Yes.", "yes, at 11:58:")
		p.press("\r")
		p.want("Room for the record? Not any more.")
		p.press("j", "\r")
		p.want("The program finds it right")
		p.press("c")
		p.want("MOVE")
	})
	state := d.state(t)
	done := map[string]bool{}
	for _, k := range state.Checks {
		done[k.Name] = k.Done
	}
	for name, want := range map[string]bool{"recorder": false, "facing": true, "fix": true, "elements": true, "disk": false, "clock": false} {
		if done[name] != want {
			t.Errorf("the record has %s %v, want %v", name, done[name], want)
		}
	}
}

// What was confirmed stays confirmed in an outing that is taken up again.
func TestChecklistTakenUp(t *testing.T) {
	d := newDisk()
	play(t, listed(recorded(d)), 80, few, func(p *player) { p.press("r") })
	before := d.state(t)
	s := listed(recorded(d))
	change := s.change
	s.change = func(c *Config) { change(c); c.Resume = &before }
	s.at += 20 * time.Second
	play(t, s, 53, 20, func(p *player) { p.miss("Recorder running?") })
}

// The unconfirmed recorder is spoken again and again, also in mid-pass, and
// never while an instruction is being said or when one is near.
func TestChecklistSpoken(t *testing.T) {
	t.Parallel()
	l := new(listener)
	s := listed(spoken(stories["move"], l))
	s.at = -400 * time.Second
	play(t, s, 80, few, func(p *player) { p.until(200 * time.Second) })
	var asked []time.Time
	for i, u := range l.all {
		if !strings.Contains(u.text, "Recorder running?") {
			continue
		}
		asked = append(asked, u.at)
		if u.urgent {
			t.Errorf("%q interrupts", u.text)
		}
		if i+1 < len(l.all) && l.all[i+1].at.Before(u.at.Add(l.Speaking(u.text))) {
			t.Errorf("%q runs into %q", u.text, l.all[i+1].text)
		}
	}
	// One a minute for the ten minutes from -400 s on.
	if len(asked) < 9 || len(asked) > 11 {
		t.Errorf("asked %d times in ten minutes, want once a minute: %v", len(asked), asked)
	}
	for i := 1; i < len(asked); i++ {
		if gap := asked[i].Sub(asked[i-1]); gap < 30*time.Second || gap > 90*time.Second {
			t.Errorf("asked %s after the last time, want about a minute", gap)
		}
	}
}

// An item of the user's own can't move the cursor of the terminal, and the list
// fits any screen with the cursor on it.
func TestChecklistView(t *testing.T) {
	var items []outing.Item
	for i := range 40 {
		items = append(items, outing.Item{Name: fmt.Sprint(i), Before: time.Minute, Text: fmt.Sprintf("Item %d\x1b done?", i+1)})
	}
	m := picture(t, stories["move"], 53, 20, func(c *Config) { c.Checks = items })
	press(t, m, "c")
	press(t, m, slices.Repeat([]string{"j"}, 50)...)
	if page := m.page.plain(); !strings.Contains(page, "> Item 40 done?") {
		t.Errorf("the cursor is not on the last item:\n%s", page)
	}
	checkPicture(t, m.picture, 53, 20)
	press(t, m, "enter")
	if page := m.page.plain(); !strings.Contains(page, "Item 40 done? Yes.") {
		t.Errorf("not confirmed:\n%s", page)
	}
	checkPicture(t, m.picture, 53, 20)
}

func TestChecklistScreens(t *testing.T) {
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		m := picture(t, listed(stories["move"]), size[0], size[1])
		golden(t, fmt.Sprintf("unconfirmed-%dx%d", size[0], size[1]), m.page.plain())
		press(t, m, " ", "n", "c")
		golden(t, fmt.Sprintf("checks-%dx%d", size[0], size[1]), m.page.plain())
		press(t, m, "c")
		checkPicture(t, m.picture, size[0], size[1])
	}
}

// Right after the start a receiver is still asked for the time, and the pass may
// not be the one that is shown.
func TestRecorderBeforeTheTimeIsKnown(t *testing.T) {
	t.Parallel()
	s := stories["nosite"]
	s.noSite, s.at = false, -130*time.Second // in mid-pass
	play(t, listed(s), 80, 24, func(p *player) {
		p.press("r")
		p.want("Again in a moment: the time is not known yet")
		p.wait(6 * time.Second)
		p.want("Recorder running?  r: yes")
	})
}

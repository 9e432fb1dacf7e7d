package tui

import (
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"foreaim/track/outing"
)

// orderly runs commands that only tell when they were started.
type orderly struct {
	mu   sync.Mutex
	runs []string
}

func (o *orderly) all() []string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return slices.Clone(o.runs)
}

// command makes a command that notes the seconds after start at which it runs.
func (o *orderly) command(t *testing.T, c *Config, name, at, problem string) Command {
	moment, err := outing.ParseMoment(at)
	if err != nil {
		t.Fatal(err)
	}
	return Command{At: moment, Name: name, Run: func() outing.CommandEntry {
		o.mu.Lock()
		defer o.mu.Unlock()
		o.runs = append(o.runs, fmt.Sprintf("%s %.0f", name, c.Now().Sub(start).Seconds()))
		return outing.CommandEntry{Output: "done", Problem: outing.Text(problem)}
	}}
}

// ordered is the usual pass, which rises at -279.5 and sets at 279.5 s, with a
// command at each of four times, bursts at -270, -240 … 270.
func ordered(t *testing.T, o *orderly, d *diskRecorder) story {
	s := stories["before"]
	s.schedule = earlier
	s.at = -300 * time.Second
	s.change = func(c *Config) {
		c.Record = d
		c.Commands = []Command{
			o.command(t, c, "record", "rise-10s", ""),
			o.command(t, c, "mark", "burst-2s", ""),
			o.command(t, c, "turn", "peak", "exit status 1: no such\x1b[2J tape"),
			o.command(t, c, "stop", "set+10s", ""),
			o.command(t, c, "gone", "rise-1m", ""), // 40 s ago at the start
		}
	}
	return s
}

// Every command runs at its time, once; one after the set when the screen shows
// the next pass already. What failed is told until the next key.
func TestCommands(t *testing.T) {
	t.Parallel()
	o, d := new(orderly), newDisk()
	play(t, ordered(t, o, d), 80, few, func(p *player) {
		p.until(-200 * time.Second)
		want := []string{"record -289", "mark -272", "mark -242", "mark -212"}
		if got := o.all(); !slices.Equal(got, want) {
			t.Errorf("ran %v, want %v", got, want)
		}
		p.miss("COMMAND")
		p.until(20 * time.Second)
		p.want("COMMAND FAILED: turn, at peak: exit status 1: no such[2J tape")
		p.press("l")
		p.miss("COMMAND FAILED")
		p.until(400 * time.Second)
		got := o.all()
		if n := len(got); n != 1+19+1+1 || got[n-1] != "stop 289" {
			t.Errorf("%d runs, %v, want 22, the last at 289.5 s", n, got)
		}
	})
	var entries []outing.CommandEntry
	for _, r := range d.log(t).Records {
		if e, ok := r.Entry.(outing.CommandEntry); ok {
			entries = append(entries, e)
		}
	}
	if n := len(entries); n != 22 || entries[0].Command != "record" || entries[0].When != "rise-10s" || entries[0].Output != "done" {
		t.Errorf("%d runs recorded, the first %+v", n, entries[0])
	}
}

// A command whose time is up to five seconds gone is still run at the start,
// and a new search in mid-pass repeats none.
func TestCommandsOnceAndNotLate(t *testing.T) {
	for _, c := range []struct {
		late time.Duration
		want int
	}{{2 * time.Second, 1}, {5500 * time.Millisecond, 0}} {
		o, d := new(orderly), newDisk()
		s := ordered(t, o, d)
		s.at = -242*time.Second + c.late
		play(t, s, 80, few, func(p *player) {
			if got := o.all(); len(got) != c.want {
				t.Errorf("%s late: ran %v, want %d", c.late, got, c.want)
			}
			p.press("k", "\r", "\x1b") // a point of the skyline, on the horizon
			p.wait(time.Second)
			if got := o.all(); len(got) != c.want {
				t.Errorf("after a new search: ran %v, want %d", got, c.want)
			}
		})
	}
}

// The commands of a pass that is only looked at are not run.
func TestCommandsOfTheOtherPass(t *testing.T) {
	t.Parallel()
	o, d := new(orderly), newDisk()
	play(t, ordered(t, o, d), 80, few, func(p *player) {
		p.press("p", "\x1b[B", "\r") // the pass after this one
		p.until(300 * time.Second)
		if got := o.all(); len(got) != 0 {
			t.Errorf("ran %v for a pass that nobody points at", got)
		}
	})
}

package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// stillRun is how late a command may be started: after a gap, what should have
// been done long ago helps nobody.
const stillRun = 5 * time.Second

// errands are the user's commands and the passes that they belong to.
type errands struct {
	commands []Command
	passes   []*followed
}

// followed is a pass that was pointed at.
type followed struct {
	target   int // number
	pass     track.Pass
	schedule beacon.Schedule // of the bursts
	bursts   []time.Time
	numbers  []int           // of the bursts
	done     map[errand]bool // kept, so that none is run twice
	seen     time.Time       // when it was pointed at last
}

// errand is a command at one of its times.
type errand struct{ command, burst int }

// due returns what is to be run now.
func (e *errands) due(s *scene) []tea.Cmd {
	if len(e.commands) == 0 {
		return nil
	}
	current := e.follow(s)
	var all []tea.Cmd
	kept := e.passes[:0]
	for _, f := range e.passes {
		if f == current {
			f.seen = s.now
		}
		// Commands after the set are due when the screen shows the next pass.
		if f == current || !f.seen.Before(f.pass.Set.Time) {
			all = append(all, e.start(f, s.now)...)
		}
		if s.now.Before(e.over(f)) {
			kept = append(kept, f)
		}
	}
	e.passes = kept
	return all
}

// follow returns the pass that is pointed at, brought up to date.
func (e *errands) follow(s *scene) *followed {
	if s.pass == nil || s.stage == searching {
		return nil
	}
	var current *followed
	for _, f := range e.passes {
		if f.target == s.number && !f.pass.Rise.Time.After(s.pass.Set.Time) && !f.pass.Set.Time.Before(s.pass.Rise.Time) {
			current = f
		}
	}
	if current == nil {
		current = &followed{target: s.number, done: make(map[errand]bool)}
		e.passes = append(e.passes, current)
	}
	if current.bursts != nil && current.pass.Equal(*s.pass) && current.schedule == s.planned {
		return current
	}
	current.pass, current.schedule, current.bursts, current.numbers = *s.pass, s.planned, []time.Time{}, nil
	for _, h := range s.plan.Holds {
		if h.Burst {
			current.bursts = append(current.bursts, h.At)
			current.numbers = append(current.numbers, s.planned.Next(h.At).Number)
		}
	}
	return current
}

// over is when nothing of a pass is left to be run.
func (e *errands) over(f *followed) time.Time {
	last := f.pass.Set.Time
	for _, c := range e.commands {
		if at := f.pass.Set.Time.Add(c.At.Offset); at.After(last) {
			last = at
		}
	}
	return last.Add(stillRun)
}

// start starts what is due of a pass and was not yet.
func (e *errands) start(f *followed, now time.Time) []tea.Cmd {
	var all []tea.Cmd
	for i, c := range e.commands {
		for n, at := range c.At.When(f.pass, f.bursts) {
			this := errand{command: i}
			if c.At.Anchor == outing.AtBurst {
				this.burst = f.numbers[n]
			}
			if now.Before(at) || now.Sub(at) > stillRun || f.done[this] {
				continue
			}
			f.done[this] = true
			all = append(all, func() tea.Msg { return commandMsg{c.Name, c.result()} })
		}
	}
	return all
}

// result runs the command.
func (c Command) result() outing.CommandEntry {
	r := c.Run()
	if r.Command == "" {
		r.Command = outing.Text(c.Name)
	}
	if r.When == "" {
		r.When = outing.Text(c.At.String())
	}
	return r
}

// commandMsg tells how a command went.
type commandMsg struct {
	name   string
	result outing.CommandEntry
}

// commandDone records how a command went, and shows it when it failed.
func (m *model) commandDone(c commandMsg) {
	m.recording.put(m.trueNow(), c.result)
	if c.result.Problem != "" {
		m.insist("COMMAND FAILED: " + c.name + ", at " + string(c.result.When) + ": " + string(c.result.Problem))
	}
}

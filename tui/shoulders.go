package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/north"
)

// turning is the antenna being turned through a transmitter's signal.
type turning struct {
	name    string
	seen    north.Sighting
	left    float64 // of the turn under way
	marked  bool    // left
	turns   []north.Turn
	middle  north.Middle
	problem string
}

// startTurn begins to find the chosen landmark by its signal.
func (m *model) startTurn() tea.Cmd {
	w, ok := m.finder.way()
	site, known, _ := m.here()
	switch {
	case m.finder.turn != nil:
		return m.endTurn()
	case !ok || w.landmark == nil || !known:
		m.tell("Choose a landmark that sends a signal")
	case w.refusal != "":
		m.tell(capital(w.refusal))
	default:
		seen, err := w.landmark.From(site)
		if err != nil {
			m.tell(capital(reason(err)))
			return nil
		}
		m.finder.walk, m.finder.turn = nil, &turning{name: w.name, seen: seen}
	}
	return nil
}

// markShoulder marks a place where the signal falls off.
func (m *model) markShoulder() {
	f := &m.finder
	t := f.turn
	t.problem = ""
	if !t.marked {
		t.left, t.marked = track.Wrap360(f.rightDeg), true
		return
	}
	t.marked = false
	all := append(t.turns[:len(t.turns):len(t.turns)], north.Turn{LeftDeg: t.left, RightDeg: track.Wrap360(f.rightDeg)})
	middle, err := north.MiddleOf(all...)
	if err != nil {
		t.problem = reason(err)
		return
	}
	t.turns, t.middle = all, middle
}

// endTurn takes the middle.
func (m *model) endTurn() tea.Cmd {
	t := m.finder.turn
	if len(t.turns) == 0 {
		m.tell("Mark both shoulders first")
		return nil
	}
	m.finder.turn = nil
	return m.takeOr(north.TransmitterReference(t.name, t.seen, t.middle, landmarkM, m.trueNow()))
}

// words says how the turn goes.
func (t *turning) words() (word string, rest []string) {
	switch {
	case t.problem != "":
		return "TURN AGAIN", []string{t.problem}
	case t.marked:
		return "TURN RIGHT", []string{"through " + t.name + " until it falls off as much again. Enter there", "until it falls off again. Enter there"}
	case len(t.turns) > 0:
		return "FOUND", []string{t.middle.Line()}
	}
	return "TURN LEFT", []string{"of the signal of " + t.name + " until it falls off. Enter there", "until the signal falls off. Enter there"}
}

// then says what to do besides.
func (t *turning) then() string {
	text := "The cross is where the boom points: the arrow keys move it, half a fist at a time."
	if n := len(t.turns); n > 0 && !t.marked {
		text = fmt.Sprintf("x: take it. Another turn makes it surer (%d so far): left until it falls off, Enter. ", n) + text
	}
	return text + " Esc: give up."
}

// giveUp leaves what is under way.
func (m *model) giveUp() {
	f := &m.finder
	if f.walk != nil {
		m.tell("The walk is given up")
	} else if f.turn != nil {
		m.tell("The turn is given up")
	}
	f.walk, f.turn = nil, nil
}

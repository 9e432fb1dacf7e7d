package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/gps"
	"foreaim/track/north"
)

const (
	// walkWantDeg is how good the bearing of a walk is to be.
	walkWantDeg = 3.0
	// walkUseDeg is the worst that is taken when somebody stops.
	walkUseDeg = 15.0
	// walkFixes bounds what is kept: an hour.
	walkFixes = 3600
)

// walk is a walk under way.
type walk struct {
	fixes []north.WalkFix
	now   north.Walk
	err   error // why it is no straight walk
}

// walkWay is a walk with the receiver.
func (m *model) walkWay() way {
	w := way{
		name: "walk", sigmaDeg: walkWantDeg, note: "about 100 m",
		howTo: "Take the receiver and walk straight towards something far away below the cross. Enter: start.",
		do: func(m *model) tea.Cmd {
			m.finder.walk = &walk{}
			m.addFix(m.scene.report)
			return nil
		},
	}
	switch r := m.scene.report; {
	case !m.scene.receiver:
		w.refusal = "there is no receiver"
	case r.Fix.Quality == "fixed":
		w.refusal = "the source gives a fixed place"
	case r.State != gps.Fixed:
		w.refusal = "wait for a fix"
	}
	return w
}

// addFix takes a fix of the walk.
func (m *model) addFix(r gps.Report) {
	w := m.finder.walk
	if w == nil || !r.Fix.Valid() || len(w.fixes) >= walkFixes {
		return
	}
	f := north.WalkFix{At: r.Fix.Received, LatitudeDeg: r.Fix.LatitudeDeg, LongitudeDeg: r.Fix.LongitudeDeg, HDOP: r.Fix.HDOP}
	if n := len(w.fixes); n > 0 && !f.At.After(w.fixes[n-1].At) {
		return
	}
	w.fixes = append(w.fixes, f)
	w.now, w.err = north.WalkBearing(w.fixes, walkWantDeg)
}

// endWalk takes what the walk gives.
func (m *model) endWalk() tea.Cmd {
	w := m.finder.walk
	switch {
	case w.err != nil:
		m.tell("Not a straight walk. Esc: give it up")
	case !(w.now.SigmaDeg <= walkUseDeg):
		m.tell(fmt.Sprintf("Walk %.0f m further first", w.now.FurtherM))
	default:
		m.finder.walk = nil
		return m.takeOr(north.WalkReference(w.now, m.finder.rightDeg, m.trueNow()))
	}
	return nil
}

// words says how the walk goes.
func (w *walk) words() (word string, rest []string) {
	switch {
	case w.err != nil:
		return "WALK", []string{reason(w.err)}
	case w.now.Enough:
		return "ENOUGH", []string{w.now.Line()}
	}
	return "WALK", []string{w.now.Line()}
}

// then says what to do besides.
func (w *walk) then() string {
	switch {
	case w.err != nil:
		return "Esc gives this walk up; then start again."
	case w.now.Enough:
		return "Enter: take it. What you walked towards is straight ahead when you are back."
	}
	return "Keep the pace, and the line. What you walk towards stays your straight ahead when you are back. Enter: stop. Esc: give up."
}

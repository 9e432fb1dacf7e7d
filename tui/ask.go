package tui

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// ask is a question whose answer is typed on the last row.
type ask struct {
	label, unit string
	enter       string // what Enter does
	number      bool   // only an azimuth can be typed
	width       int    // the most characters
	// take takes what was typed, or says what is wrong with it.
	take func(m *model, text string) (problem string)
}

// ask opens the line for a question.
func (m *model) ask(a ask) { m.entry = entry{open: true, ask: &a} }

// askAzimuth asks for an azimuth from 0 to 360.
func (m *model) askAzimuth(label, unit string, take func(m *model, deg float64) (problem string)) {
	m.ask(ask{label: label, unit: unit, enter: "set", number: true, width: entryWidth, take: func(m *model, text string) string {
		deg, err := strconv.ParseFloat(text, 64)
		if err != nil || !(deg >= 0 && deg <= 360) {
			return "a number from 0 to 360"
		}
		return take(m, deg)
	}})
}

// askName asks for a name.
func (m *model) askName(label string, take func(m *model, name string) (problem string)) {
	m.ask(ask{label: label, enter: "set", width: nameWidth, take: func(m *model, text string) string {
		return take(m, strings.Join(strings.Fields(text), " "))
	}})
}

// nameWidth is the most characters of a place's name.
const nameWidth = 24

// typeAnswer takes a key while a question is open.
func (m *model) typeAnswer(k tea.KeyMsg) tea.Cmd {
	e := &m.entry
	switch k.Type {
	case tea.KeyEsc:
		*e = entry{}
	case tea.KeyCtrlC:
		return tea.Interrupt
	case tea.KeyEnter:
		typed := *e
		*e = entry{} // the answer may ask on
		if problem := typed.ask.take(m, typed.text); problem != "" {
			typed.problem = problem
			*e = typed
		}
	case tea.KeyBackspace:
		e.problem = ""
		if r := []rune(e.text); len(r) > 0 {
			e.text = string(r[:len(r)-1])
		}
	case tea.KeyRunes, tea.KeySpace:
		e.problem = ""
		for _, r := range clean(string(k.Runes)) {
			fits := true
			if e.ask.number {
				r, fits = ofNumber(r)
			}
			if fits && cells(e.text) < e.ask.width {
				e.text += string(r)
			}
		}
	}
	return nil
}

// ofNumber returns a typed character as a number has it, and whether one has it at
// all. A comma is a point; a minus is kept, for it to be refused: without either
// another number would be left.
func ofNumber(r rune) (rune, bool) {
	if r == ',' {
		r = '.'
	}
	return r, r >= '0' && r <= '9' || r == '.' || r == '-'
}

// askLine says what is typed and how to go on; of what doesn't fit, the end.
func (e entry) askLine() []string {
	typed := fmt.Sprintf("%s: %s_%s", e.ask.label, e.text, e.ask.unit)
	if e.problem != "" {
		return []string{typed + "   " + e.problem, e.problem}
	}
	lines := []string{typed + "   Enter: " + e.ask.enter + "  Esc: leave", typed, e.text + "_"}
	for r := []rune(e.text); len(r) > 0; r = r[1:] {
		lines = append(lines, "… "+string(r)+"_")
	}
	return append(lines, "_")
}

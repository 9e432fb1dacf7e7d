package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// noteWidth is the most characters of a note.
const noteWidth = 200

// openNote opens the line for a note.
func (m *model) openNote() tea.Cmd {
	m.entry = entry{open: true, note: true}
	return nil
}

// typeNote takes a key while a note is typed.
func (m *model) typeNote(k tea.KeyMsg) tea.Cmd {
	e := &m.entry
	switch k.Type {
	case tea.KeyEsc:
		*e = entry{}
	case tea.KeyEnter:
		if text := strings.TrimSpace(e.text); text != "" {
			m.recording.put(m.trueNow(), outing.NoteEntry{Text: outing.Text(text)})
			m.tell("Noted: " + text)
		}
		*e = entry{}
	case tea.KeyBackspace:
		if r := []rune(e.text); len(r) > 0 {
			e.text = string(r[:len(r)-1])
		}
	case tea.KeyCtrlC:
		return tea.Interrupt
	case tea.KeyRunes, tea.KeySpace:
		r := []rune(e.text + clean(string(k.Runes)))
		e.text = string(r[:min(len(r), noteWidth)])
	}
	return nil
}

// noteLine shows the end of what is typed, as much as fits.
func (e entry) noteLine() []string {
	typed := fmt.Sprintf("Note: %s_", e.text)
	lines := []string{typed + "   Enter: keep  Esc: leave", typed}
	for r := []rune(e.text); len(r) > 0; r = r[1:] {
		lines = append(lines, "… "+string(r)+"_")
	}
	return append(lines, "_")
}

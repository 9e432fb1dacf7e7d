package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// noteWidth is the most characters of a note.
const noteWidth = 200

// openNote opens the line for a note.
func (m *model) openNote() tea.Cmd {
	m.ask(ask{label: "Note", enter: "keep", width: noteWidth, take: func(m *model, text string) string {
		if text = strings.TrimSpace(text); text != "" {
			m.recording.put(m.trueNow(), outing.NoteEntry{Text: outing.Text(text)})
			m.tell("Noted: " + text)
		}
		return ""
	}})
	return nil
}

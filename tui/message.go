package tui

import "time"

// tellFor is how long a message stays on the last row.
const tellFor = 8 * time.Second

// insistFor is how long a message stays that nobody asked for.
const insistFor = time.Minute

// tell shows a message on the last row for a while.
func (m *model) tell(text string) {
	m.message, m.brief, m.until, m.keep = clean(text), "", m.scene.computer.Add(tellFor), false
}

// insist shows a message until the next key, or for a longer while.
func (m *model) insist(text string) {
	m.message, m.brief, m.until, m.keep = clean(text), "", m.scene.computer.Add(insistFor), true
}

// telling tells whether the last row shows a message.
func (m *model) telling() bool {
	return !m.entry.open && m.message != "" && m.scene.computer.Before(m.until) && m.columns >= 10
}

// lastRow writes over the last row.
func (m *model) lastRow(y int, i ink, candidates ...string) {
	for x := range m.columns {
		m.page.set(x, y, i, ' ')
	}
	m.page.text(min(1, m.columns/10), y, i, m.page.fit(m.columns-2, candidates...))
}

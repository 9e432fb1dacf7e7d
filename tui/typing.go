package tui

import tea "github.com/charmbracelet/bubbletea"

// oneByOne takes keys apart that arrived together: letters pressed faster than
// they are read, on a computer that is busy, come as one message. What was
// pasted stays whole, and is no key.
func oneByOne(k tea.KeyMsg) []tea.KeyMsg {
	if k.Type != tea.KeyRunes || k.Paste || len(k.Runes) < 2 {
		return []tea.KeyMsg{k}
	}
	keys := make([]tea.KeyMsg, len(k.Runes))
	for i, r := range k.Runes {
		keys[i] = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: k.Alt}
	}
	return keys
}

// takeKey takes one key.
func (m *model) takeKey(k tea.KeyMsg) tea.Cmd {
	if m.entry.open {
		return m.typeKey(k)
	}
	if m.showing == onSatellites {
		switch k.Type {
		case tea.KeyRunes, tea.KeySpace, tea.KeyBackspace:
			m.typeName(k)
			return nil
		}
	}
	return m.press(k.String())
}

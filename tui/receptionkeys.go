package tui

import tea "github.com/charmbracelet/bubbletea"

// receptionKeys are the keys of the views of reception and ground.
func receptionKeys() []binding {
	on := func(v screen, words, short string, keys, names []string, do func(m *model) tea.Cmd) binding {
		return binding{Key{string(v), keys, words}, short, names, do, nil}
	}
	list := func(s ...string) []string { return s }
	return []binding{
		on(onReception, "one transmitter up", "", list("↑", "k"), list("up", "k"), moveTransmitter(-1)),
		on(onReception, "one transmitter down", "↑ ↓ move", list("↓", "j"), list("down", "j"), moveTransmitter(1)),
		on(onReception, "the ground towards the chosen transmitter", "g ground", list("g", "Enter"), list("g", "enter"), show(onGround)),
		on(onReception, "back to pointing", "Esc back", list("Esc", "h"), list("esc", "h"), show(onPointing)),
		on(onGround, "the transmitter before", "", list("↑", "k"), list("up", "k"), moveTransmitter(-1)),
		on(onGround, "the next transmitter", "↑ ↓ another", list("↓", "j"), list("down", "j"), moveTransmitter(1)),
		on(onGround, "hearing: the chain, strong transmitters, what helps", "h reception", list("h"), list("h"), show(onReception)),
		on(onGround, "back to pointing", "Esc back", list("Esc", "g"), list("esc", "g"), show(onPointing)),
	}
}

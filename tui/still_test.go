package tui

import (
	"context"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// picture makes a model of a story at its moment, at a size, with all searches
// and plans done.
func picture(t testing.TB, s story, columns, rows int, change ...func(*Config)) *model {
	t.Helper()
	now := s.clock()
	config, targets := s.config(func() time.Time { return now })
	for _, f := range change {
		f(&config)
	}
	m := newModel(context.Background(), config, targets, themes[config.Theme], nil)
	settle(t, m, tea.WindowSizeMsg{Width: columns, Height: rows})
	return m
}

// settle gives a model a message and whatever its commands answer, except that
// no further frame comes.
func settle(t testing.TB, m *model, msg tea.Msg) {
	t.Helper()
	queue := []tea.Msg{msg}
	for n := 0; len(queue) > 0; n++ {
		if n > 100 {
			t.Fatal("the model never comes to rest")
		}
		msg, queue = queue[0], queue[1:]
		if batch, ok := msg.(tea.BatchMsg); ok {
			for _, cmd := range batch {
				if cmd != nil {
					queue = append(queue, cmd())
				}
			}
			continue
		}
		if _, cmd := m.Update(msg); cmd != nil {
			queue = append(queue, cmd())
		}
	}
	if m.failure != nil {
		t.Fatal(m.failure)
	}
}

// press presses keys by their names.
func press(t testing.TB, m *model, names ...string) {
	t.Helper()
	special := map[string]tea.KeyType{
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "left": tea.KeyLeft, "right": tea.KeyRight,
		"up": tea.KeyUp, "down": tea.KeyDown, "backspace": tea.KeyBackspace,
	}
	for _, name := range names {
		key := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
		if k, ok := special[name]; ok {
			key = tea.KeyMsg{Type: k}
		}
		settle(t, m, key)
	}
}

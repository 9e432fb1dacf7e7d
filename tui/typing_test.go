package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/google/go-cmp/cmp"
)

// Letters that come together are pressed one after the other; what is pasted
// presses nothing.
func TestKeysThatComeTogether(t *testing.T) {
	runes := func(text string, paste bool) tea.KeyMsg {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: paste}
	}
	for _, c := range []struct {
		key  tea.KeyMsg
		want []string
	}{
		{runes("nlü", false), []string{"n", "l", "ü"}},
		{runes("n", false), []string{"n"}},
		{runes("nl", true), []string{"[nl]"}},
		{tea.KeyMsg{Type: tea.KeyEnter}, []string{"enter"}},
	} {
		var got []string
		for _, k := range oneByOne(c.key) {
			got = append(got, k.String())
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%q: -want +got\n%s", c.key, diff)
		}
	}
}

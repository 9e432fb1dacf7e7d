package tui

import (
	"context"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// One frame: the message, everything looked at anew, the picture.
func BenchmarkFrame(b *testing.B) {
	for _, name := range [...]string{"move", "overhead"} {
		b.Run(name, func(b *testing.B) {
			s := stories[name]
			now := s.clock()
			config, targets := s.config(func() time.Time { return now })
			m := newModel(context.Background(), config, targets, themes["dark"], nil)
			settle(b, m, tea.WindowSizeMsg{Width: 80, Height: 24})
			b.ReportAllocs()
			for b.Loop() {
				m.Update(frameMsg{})
				_ = m.View()
			}
		})
	}
}

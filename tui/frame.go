package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// framePeriod is the time between two pictures.
const framePeriod = 100 * time.Millisecond

// frameMsg asks for the next picture. Its generation tells one chain of frames
// from another: after a pause an old one may still be under way.
type frameMsg struct{ generation int }

// nextFrame sends a frameMsg at the next tenth of a second. It follows the
// clock, so frames do not drift however long one takes.
func nextFrame(generation int) tea.Cmd {
	return tea.Every(framePeriod, func(time.Time) tea.Msg { return frameMsg{generation} })
}

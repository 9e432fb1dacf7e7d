package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
)

// Practice is an invented outing for a person to practise with: the boom is turned
// with the keys, and only what really sounded can be marked.
type Practice interface {
	// Sounded tells whether something sounded a moment before a time by the
	// computer's clock, so that it can be marked as heard now.
	Sounded(computer time.Time) bool
}

// steer turns the boom, in fists.
func steer(right, up float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		b := &m.boom
		b.RightDeg = track.TurnDeg(0, b.RightDeg+right*m.config.FistDeg)
		b.UpDeg = max(0, min(90, b.UpDeg+up*m.config.FistDeg))
		return nil
	}
}

// tellHand takes where the keys have turned the boom.
func (s *scene) tellHand(c Config, boom Boom) {
	if c.Practice != nil {
		s.hand = &boom
	}
}

// handAt is where it points, as the operator believes.
func (s *scene) handAt() aim.Direction {
	return aim.Direction{AzimuthDeg: track.Wrap360(s.facing.deg + s.hand.RightDeg), ElevationDeg: s.hand.UpDeg}
}

// practiceKeys are the keys that turn the boom, over the pointing view.
func practiceKeys() []binding {
	key := func(words, short string, keys, names []string, right, up float64) binding {
		return binding{Key{string(onPractice), keys, words}, short, names, steer(right, up), nil}
	}
	list := func(s ...string) []string { return s }
	return []binding{
		key("the boom half a fist to the left", "", list("←"), list("left"), -0.5, 0),
		key("the boom half a fist to the right", "← → ↑ ↓ boom", list("→"), list("right"), 0.5, 0),
		key("the boom three fists to the left", "", list("[", "Shift ←"), list("[", "shift+left"), -3, 0),
		key("the boom three fists to the right", "", list("]", "Shift →"), list("]", "shift+right"), 3, 0),
		key("the boom half a fist up", "", list("↑"), list("up"), 0, 0.5),
		key("the boom half a fist down", "", list("↓"), list("down"), 0, -0.5),
	}
}

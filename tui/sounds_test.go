package tui

import (
	"testing"
	"time"
)

// What an invented receiver lets hear is on the screen while it sounds, at every
// width that shows a time, and without what could drive a terminal.
func TestSoundsAreShown(t *testing.T) {
	s := stories["move"]
	s.title = "demo"
	from, to := s.clock().Add(3*time.Second), s.clock().Add(5*time.Second)
	s.change = func(c *Config) {
		c.Sounds = func(computer time.Time, _ *Boom) string {
			if computer.Before(from) || !computer.Before(to) {
				return ""
			}
			return "a weak\x1b[2J beep"
		}
	}
	for _, columns := range []int{120, 80, 53} {
		play(t, s, columns, 24, func(p *player) {
			p.miss("beep")
			p.wait(3 * time.Second)
			p.want("a weak[2J beep")
			p.wait(2 * time.Second)
			p.miss("beep")
		})
	}
}

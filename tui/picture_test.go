package tui

import (
	"strings"
	"testing"
	"time"
)

func TestPicture(t *testing.T) {
	for name, s := range stories {
		now := s.clock()
		config, targets := s.config(func() time.Time { return now })
		for _, columns := range [...]int{20, 53, 80, 200} {
			text := pictureOf(config, targets, columns)
			for _, line := range strings.Split(text, "\n") {
				if cells(line) > columns {
					t.Errorf("%s: %d columns: line %q is %d wide", name, columns, line, cells(line))
				}
			}
			if strings.IndexFunc(text, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f }) >= 0 {
				t.Errorf("%s: control characters in %q", name, text)
			}
		}
	}
	s := stories["move"]
	config, targets := s.config(s.clock)
	golden(t, "picture-80", strings.TrimRight(pictureOf(config, targets, 80), "\n"))
}

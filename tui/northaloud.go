package tui

import (
	"fmt"
	"time"

	"foreaim/track/aim"
	"foreaim/track/north"
)

// news is what is to be said aloud of north when there is a moment for it.
type news struct {
	text  string
	until time.Time // then it is none any more
}

// newsFor is how long a reference that was taken is worth a word.
const newsFor = 20 * time.Second

// foundAloud says how well straight ahead is known, as it is spoken.
func foundAloud(f north.Facing) string {
	degrees := func(deg float64) string {
		n := max(whole(deg), 1)
		if n == 1 {
			return "one degree"
		}
		return aim.Spell(n) + " degrees"
	}
	switch {
	case len(f.LeftOut) == 0 && len(f.Differences) > 0:
		return "north in doubt, two references differ by " + degrees(f.Differences[0].Deg)
	case f.SigmaDeg > lostDeg:
		return "north may be anywhere"
	}
	words := "north found, give or take " + degrees(f.SigmaDeg)
	if n := len(f.LeftOut); n > 0 {
		words += fmt.Sprintf(", %s left out", aim.Spell(n))
	}
	return words
}

// speakNorth says aloud what was found, once for each reference that was taken.
func (m *model) speakNorth() {
	n := &m.finder.news
	if n.text == "" {
		return
	}
	if m.speaking.aside(&m.scene, n.text) || m.scene.now.After(n.until) {
		*n = news{}
	}
}

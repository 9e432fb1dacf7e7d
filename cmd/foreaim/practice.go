package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
)

// practice is what somebody practises with.
type practice struct {
	on   bool
	seed uint64 // 0: another one each time
}

// begin draws the truth.
func (p *practice) begin(w *world.World, now time.Time) error {
	if p.seed == 0 {
		p.seed = uint64(now.UnixNano())%9999 + 1 // short enough to be typed again
	}
	return w.Vary(p.seed)
}

// score says how it went, and what the truth was.
func (p practice) score(e *world.Ear) string {
	w, s := e.World, e.Score
	late, left := "late", "right"
	first := w.Satellites[0]
	if first.LateS < 0 {
		late = "early"
	}
	north := track.TurnDeg(w.BelievedDeg, w.FacingDeg)
	if north < 0 {
		left = "left"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "You heard and marked %s of the %d that could be heard by knowing the truth.\n", count(s.Marked, "burst"), s.Known)
	fmt.Fprintf(&b, "Following the elements and your north alone one hears %d.\n", s.Led)
	fmt.Fprintf(&b, "The truth: %s was %.0f s %s, and your north %.0f° %s of true.\nAgain: foreaim demo --practise --seed %d\n",
		first.Set.Name, math.Abs(first.LateS), late, math.Abs(north), left, p.seed)
	return b.String()
}

// count says a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

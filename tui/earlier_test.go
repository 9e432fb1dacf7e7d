package tui

import (
	"math"
	"testing"
	"time"

	"foreaim/track/outing"
)

// What stayed over earlier outings is what the first pass begins with: the heading
// where the facing is from the same kind of reference only, less what was turned
// by hand. It is said.
func TestEarlierOutings(t *testing.T) {
	e := erring{lateS: 40, headingDeg: -14, sigmaS: 60, marginDB: 6}
	d := newDisk()
	s := e.story(d)
	s.at = -20 * time.Minute
	s.earlier = Earlier{40, 4, start.Add(-10 * time.Hour)}
	change := s.change
	s.change = func(c *Config) {
		change(c)
		c.EarlierNorth = map[string]Earlier{"compass": {-14, 4, start.Add(-10 * time.Hour)}}
	}
	play(t, s, 120, few, func(p *player) {
		last := func() outing.AdviceEntry {
			all := entries[outing.AdviceEntry](t, d)
			return all[len(all)-1]
		}
		near := func(when string, a outing.AdviceEntry, headingDeg float64) {
			if math.Abs(a.TimeErrorS.Value-40) > 3 || a.TimeErrorSigmaS.Value < 4 || a.TimeErrorSigmaS.Value > 60 {
				t.Errorf("%s: %v ± %v s late, want 40 s", when, a.TimeErrorS.Value, a.TimeErrorSigmaS.Value)
			}
			if math.Abs(a.HeadingErrorDeg.Value-headingDeg) > 1 {
				t.Errorf("%s: north is off by %v°, want %v°", when, a.HeadingErrorDeg.Value, headingDeg)
			}
		}
		p.wait(2 * time.Second)
		p.want("From earlier outings: satellite 40 s late")
		p.miss("compass 14")
		near("facing given", last(), 0)
		p.press("f", "1", "7", "0", "m", "\r")
		p.wait(2 * time.Second)
		p.want("compass 14° left of true ±5, taken in")
		near("by compass", last(), -14)
		p.press("[")
		p.wait(2 * time.Second)
		near("turned 10° to the left", last(), -4)
	})
}

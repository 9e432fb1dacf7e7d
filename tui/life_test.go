package tui

import (
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track/beacon"
)

// A pass from before its rise to the next one: every state comes in its turn,
// and a few seconds after the set the next pass is taken.
func TestPassFromRiseToSet(t *testing.T) {
	t.Parallel()
	s := stories["before"]
	s.schedule = earlier
	s.at = -300 * time.Second // rises at -279.5 s, first burst at -270 s
	play(t, s, 80, 24, func(p *player) {
		p.want("NEXT PASS", "rises in 0:", "BURST IN s")
		p.wait(22 * time.Second) // -277
		p.want("MOVE")
		p.wait(6 * time.Second) // -271
		p.want("KEEP STILL")
		p.wait(1500 * time.Millisecond) // -269.5
		p.want("BURST NOW")
		p.wait(4 * time.Second) // -265.5
		p.want("MOVE", "from the last hold")
		p.wait(541 * time.Second) // 275.5, the last burst was at 270
		p.want("NO BURST LEFT", "SETS IN")
		p.wait(6 * time.Second) // 281.5, set at 279.5
		p.want("PASS OVER")
		p.wait(6 * time.Second)
		p.want("NEXT PASS", "rises in 1:2")
	})
}

func TestKeys(t *testing.T) {
	play(t, stories["move"], 80, 24, func(p *player) {
		p.press("p")
		p.want("Passes of LARKSPUR-2", "19")
		p.press("\x1b[B", "\r") // down, Enter: the pass after this one
		p.want("NEXT PASS", "rises in 1:3")
		p.press("?")
		p.want("set the facing", "coming passes")
		p.press("?", "s")
		p.want("There is only one satellite")
		p.press("b")
		p.want("Bell off")
		p.press("f", "2", "0", "0", "\r")
		p.want("Facing 200° true")
		p.press("\x1b[D", "[") // left, ten to the left
		p.want("Facing 189°T")
		p.press(" ") // before the pass
		p.want("NEXT PASS")
	})
}

// A receiver that falls silent is told within 3 s, and its return within 3 s.
// The computer is 90 s slow all the while.
func TestReceiverLostAndBack(t *testing.T) {
	s := stories["slow"]
	play(t, s, 80, 24, func(p *player) {
		feed := func(seconds int) {
			for range seconds {
				p.report(goodReport(p.now(), 90))
				p.wait(time.Second)
			}
		}
		feed(5)
		p.want("computer 90 s slow", "±0.2 s", "fix 9 sat", "MOVE")
		p.miss("LOST")
		p.wait(2 * time.Second) // 3 s after the last byte
		p.want("GPS LOST")
		p.want("computer 90 s slow") // what was known goes on
		feed(1)
		p.miss("LOST")
		lost := goodReport(p.now(), 90)
		lost.State, lost.Problem = gps.Lost, "unplugged"
		p.report(lost)
		p.wait(200 * time.Millisecond)
		p.want(": unplugged")
	})
}

// The countdown follows the corrected clock, a new site a new search.
func TestClockAndSite(t *testing.T) {
	s := stories["nosite"] // at the pass's peak by a computer that is right
	s.schedule = beacon.Schedule{Period: 50 * time.Second, First: start.Add(90 * time.Second)}
	play(t, s, 80, 24, func(p *player) {
		p.want("WAITING FOR A FIX")
		p.report(goodReport(p.now(), 60)) // true time: start + 61 s, burst in 29 s
		p.wait(200 * time.Millisecond)
		p.want("MOVE", "12:01:01", "Then 2 in 1:19")
		p.report(goodReport(p.now(), -2)) // 0.6 s before start: burst in 41 s
		p.wait(200 * time.Millisecond)
		p.want("11:59:59", "computer 2.0 s fast", "Then 2 in 1:31")
	})
}
